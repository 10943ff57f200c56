// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/mirror.h"
#include "lineup/sheet_rows.h"

/// Words of phrases on the other side that may be sides, told of at most.
enum { MOST_DOUBTS = 12 };

/// A shorter gap between phrases is no hold: it would print as 0:00.0.
static const double shortest_hold_s = 0.05;

/// Copy a text that may be NULL. @return false when memory runs out.
static bool copy_text(const char *from, char **to)
{
  *to = from ? cw_copy_text(from, strlen(from)) : NULL;
  return !from || *to;
}

/// Which phrases are danced on the other side than they are written: once for each repeat that changes sides.
/// @return NULL when memory runs out. Release with free().
static bool *find_other_sides(const CwNotebook *notebook)
{
  const size_t n = notebook ? notebook->n_phrases : 0;
  bool *other = cw_new(n + 1, sizeof *other);
  for (size_t k = 0; other && k < n; k++) {
    const size_t like = notebook->phrase[k].like;
    other[k] = like < k && other[like] != notebook->phrase[k].other_side;
  }
  for (size_t k = n; other && k-- > 0;) { // the same as a phrase that comes later
    const size_t like = notebook->phrase[k].like;
    other[k] = like != CW_NONE && like > k ? other[like] != notebook->phrase[k].other_side : other[k];
  }
  return other;
}

/// Put the words of steps on the other side.
static bool mirror_steps(unsigned number, CwStep *step, size_t n, CwMessages *doubts)
{
  CwStatus status = CW_OK;
  for (size_t i = 0; i < n && status == CW_OK; i++) {
    CwMirrored mirrored;
    status = cw_mirror_text(step[i].text, &mirrored);
    if (status != CW_OK) {
      break;
    }
    free(step[i].text);
    step[i].text = mirrored.text;
    mirrored.text = NULL;
    for (size_t d = 0; d < mirrored.n_doubts && doubts->n < MOST_DOUBTS && status == CW_OK; d++) {
      status = cw_messages_add(doubts, "phrase %u, danced on the other side: %s", number, mirrored.doubt[d].text);
    }
    cw_mirrored_free(&mirrored);
  }
  return status == CW_OK;
}

/// The same of what is on the other side in a row.
static bool mirror_row(bool other_side, CwSheetRow *row, CwMessages *doubts)
{
  bool good = !other_side || mirror_steps(row->number, row->step, row->n_steps, doubts);
  for (size_t i = 0; i < row->n_parts && good; i++) {
    good = !row->part[i].other_side || mirror_steps(row->number, row->part[i].step, row->part[i].n_steps, doubts);
  }
  return good;
}

static bool copy_steps(const CwStep *from, size_t n, CwStep **to, size_t *n_to)
{
  *to = cw_new(n, sizeof **to);
  for (size_t i = 0; *to && i < n; i++) {
    (*to)[i] = from[i];
    if (!copy_text(from[i].text, &(*to)[i].text)) {
      return false;
    }
    ++*n_to;
  }
  return *to != NULL;
}

static bool copy_parts(const CwNotePhrase *phrase, CwSheetRow *row)
{
  row->part = cw_new(phrase->n_parts, sizeof *row->part);
  for (size_t i = 0; row->part && i < phrase->n_parts; i++) {
    const CwNotePart *from = &phrase->part[i];
    CwSheetPart *to = &row->part[row->n_parts++];
    *to = (CwSheetPart){.like = from->like == CW_NONE ? 0 : (unsigned)from->like + 1,
                        .other_side = from->other_side,
                        .delay = from->delay,
                        .after = from->after};
    if (!copy_steps(from->step, from->n_steps, &to->step, &to->n_steps) || !copy_text(from->role, &to->role) ||
        !copy_text(from->leader, &to->leader) || !copy_text(from->remark, &to->remark)) {
      return false;
    }
  }
  return row->part != NULL;
}

static bool one_is_pinned(const CwNotebook *notebook, size_t k)
{
  const CwNotePhrase *phrase = &notebook->phrase[k];
  for (size_t i = 0; i < phrase->n_pins; i++) {
    if (phrase->pin[i].count == 1) {
      return true;
    }
  }
  return k == 0 && !isnan(notebook->head.first_one_s);
}

/// The heading that begins with phrase `k`, or NULL.
static const char *heading_at(const CwNotebook *notebook, size_t k)
{
  const size_t section = notebook->phrase[k].section;
  if (section == CW_NONE || (k > 0 && notebook->phrase[k - 1].section == section)) {
    return NULL;
  }
  return notebook->section[section];
}

/// What changes with phrase `k` in how it is counted.
static void fill_change(const CwNotebook *notebook, size_t k, CwSheetRow *row)
{
  if (k == 0) {
    return; // the head of the sheet says it
  }
  const CwNotePhrase *phrase = &notebook->phrase[k];
  if (phrase->metre != phrase[-1].metre || phrase->metre_unit != phrase[-1].metre_unit) {
    row->metre = phrase->metre;
    row->metre_unit = phrase->metre_unit;
  }
  if (fabs(phrase->beats_per_count - phrase[-1].beats_per_count) > 1e-9) {
    row->beats_per_count = phrase->beats_per_count;
  }
}

/// What the notes say of phrase `k`. @param other_side It is danced on the other side than it is written.
static bool fill_from_notes(const CwNotebook *notebook, size_t k, bool other_side, CwSheetRow *row, CwMessages *doubts)
{
  const CwNotePhrase *phrase = &notebook->phrase[k];
  row->counts = phrase->counts;
  row->pinned = one_is_pinned(notebook, k);
  row->like = phrase->like == CW_NONE ? 0 : (unsigned)phrase->like + 1;
  row->other_side = phrase->other_side;
  row->hold_s = phrase->hold_s;
  row->count_in = phrase->count_in;
  row->canon_apart = phrase->canon_apart;
  fill_change(notebook, k, row);
  return copy_text(heading_at(notebook, k), &row->section) && copy_text(phrase->remark, &row->remark) &&
         copy_text(phrase->role, &row->role) && copy_steps(phrase->step, phrase->n_steps, &row->step, &row->n_steps) &&
         copy_parts(phrase, row) && mirror_row(other_side, row, doubts);
}

/// The hold after phrase `k` of the line, the notes' where the line ends with it.
static double hold_after(const CwCountLine *line, size_t k, const CwNotePhrase *phrase)
{
  const double end_s = line->phrase[k].end_s;
  if (k + 1 < line->n_phrases) {
    const double gap_s = cw_count_line_start(line, k + 1) - end_s;
    return gap_s >= shortest_hold_s ? gap_s : 0;
  }
  if (!phrase || !phrase->hold_after) {
    return 0;
  }
  return phrase->hold_until_s > end_s ? phrase->hold_until_s - end_s : phrase->hold_s;
}

/// What the count line says of its phrase `k`. `phrase` is NULL when the notes have none.
static void fill_from_line(const CwCountLine *line, size_t k, const CwNotePhrase *phrase, CwSheetRow *row)
{
  row->counts = phrase ? phrase->counts : line->phrase[k].counts;
  row->timed = true;
  row->start_s = cw_count_line_start(line, k);
  row->end_s = line->phrase[k].end_s;
  row->counts_per_min = cw_count_line_tempo(line, k);
  row->confidence = line->phrase[k].confidence;
  row->pinned = row->pinned && row->confidence >= 1; // a pin may be left out: it belongs to another recording
  row->check_by_ear = row->confidence >= 0 && row->confidence < CW_SURE_ENOUGH;
  row->hold_s = hold_after(line, k, phrase);
}

/// @param kept Where in the line each phrase of the notes is; NULL: in the same place.
static bool fill_rows(const CwNotebook *notebook, const CwCountLine *line, const size_t *kept, CwSheet *sheet)
{
  const size_t in_notes = notebook ? notebook->n_phrases : 0;
  const size_t in_line = line ? line->n_phrases : 0;
  const size_t n = in_notes > in_line || kept ? in_notes : in_line;
  bool *other_side = find_other_sides(notebook);
  bool good = other_side != NULL;
  sheet->row = good ? cw_new(n, sizeof *sheet->row) : NULL;
  good = good && sheet->row;
  for (size_t k = 0; k < n && good; k++) {
    CwSheetRow *row = &sheet->row[sheet->n_rows++];
    *row =
        (CwSheetRow){.number = (unsigned)k + 1, .start_s = NAN, .end_s = NAN, .counts_per_min = NAN, .confidence = -1};
    row->change_percent = NAN;
    good = k >= in_notes || fill_from_notes(notebook, k, other_side[k], row, &sheet->message);
    const size_t place = kept ? kept[k] : k;
    if (place < in_line) {
      fill_from_line(line, place, k < in_notes ? &notebook->phrase[k] : NULL, row);
      const bool same_count = k > 0 && !(row->beats_per_count > 0); // else a count is something else
      row->change_percent = same_count ? 100 * (row->counts_per_min / row[-1].counts_per_min - 1) : (double)NAN;
    }
  }
  free(other_side);
  return good;
}

static bool fill_head(const CwNotebook *notebook, const char *recording, CwSheet *sheet)
{
  if (!notebook) {
    return copy_text(recording, &sheet->recording);
  }
  const CwNoteHead *head = &notebook->head;
  sheet->metre = head->metre;
  sheet->metre_unit = head->metre_unit;
  sheet->beats_per_count = head->beats_per_count;
  const CwLanguage language = cw_language_find(head->language);
  sheet->labels = language == CW_N_LANGUAGES ? CW_ENGLISH : language;
  return copy_text(head->piece, &sheet->piece) && copy_text(head->dance, &sheet->dance) &&
         copy_text(head->role, &sheet->role) && copy_text(head->language, &sheet->language) &&
         copy_text(recording ? recording : head->recording, &sheet->recording);
}

/// What is known of the music as a whole. The dancer's own metre comes before the one that was found.
static void fill_music(const CwCountLine *line, CwSheet *sheet)
{
  if (line) {
    sheet->metre = sheet->metre ? sheet->metre : line->metre;
    sheet->beats_per_count = line->beats_per_count;
    sheet->duration_s = line->duration_s;
  }
  cw_sheet_measure(sheet);
}

static bool fill_messages(const CwMessages *messages, CwSheet *sheet)
{
  for (size_t i = 0; messages && i < messages->n; i++) {
    if (cw_messages_add(&sheet->message, "%s", messages->text[i]) != CW_OK) {
      return false;
    }
  }
  return true;
}

static CwStatus build(const CwNotebook *notebook, const CwCountLine *line, const size_t *kept, const char *recording,
                      const CwMessages *messages, CwSheet *sheet)
{
  memset(sheet, 0, sizeof *sheet);
  if (!notebook && !line) {
    return CW_ERR_BAD_ARG;
  }
  if (!fill_head(notebook, recording, sheet) || !fill_rows(notebook, line, kept, sheet) ||
      !fill_messages(messages, sheet)) {
    cw_sheet_free(sheet);
    return CW_ERR_NO_MEM;
  }
  fill_music(line, sheet);
  if (notebook && cw_cast_find(notebook, line, kept, &sheet->cast) != CW_OK) {
    cw_sheet_free(sheet);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_sheet_build(const CwNotebook *notebook, const CwCountLine *line, const char *recording,
                        const CwMessages *messages, CwSheet *sheet)
{
  return build(notebook, line, NULL, recording, messages, sheet);
}

CwStatus cw_sheet_build_carried(const CwNotebook *notebook, const CwCountLine *line, const size_t *kept,
                                const char *recording, const CwMessages *messages, CwSheet *sheet)
{
  return build(notebook, line, kept, recording, messages, sheet);
}
