// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "desk/difference.h"
#include "desk/edit.h"
#include "notes/retime.h"

static const double same_s = 0.0006; // pins are written to the millisecond

DeskGroup desk_group(const CwNotebook *notebook, size_t phrase)
{
  DeskGroup group = {phrase, phrase + 1};
  const size_t line = notebook->phrase[phrase].line;
  while (group.first > 0 && notebook->phrase[group.first - 1].line == line) {
    group.first--;
  }
  while (group.end < notebook->n_phrases && notebook->phrase[group.end].line == line) {
    group.end++;
  }
  return group;
}

char *desk_replace_line(const CwNotebook *notebook, size_t number, const char *by, size_t length, size_t *size)
{
  const CwNoteLine *line = &notebook->line[number - 1];
  const DeskText text = {notebook->text, notebook->size};
  return desk_replace(text, line->offset, line->offset + line->length, (DeskText){by, length}, size);
}

static bool is_same_step(const CwStep *a, const CwStep *b)
{
  return fabs(a->count - b->count) < 1e-9 && fabs(a->until - b->until) < 1e-9 && strcmp(a->text, b->text) == 0;
}

static bool is_same_phrase(const CwNotePhrase *a, const CwNotePhrase *b)
{
  bool same = a->counts == b->counts && a->like == b->like && a->n_steps == b->n_steps &&
              a->hold_after == b->hold_after && a->n_parts == b->n_parts && a->other_side == b->other_side;
  for (size_t i = 0; i < a->n_steps && same; i++) {
    same = is_same_step(&a->step[i], &b->step[i]);
  }
  return same;
}

CwStatus desk_same_but_pins(const CwNotebook *notebook, const char *text, size_t size, CwNotebook *read)
{
  const CwStatus status = cw_notebook_parse(text, size, read);
  if (status != CW_OK) {
    return status;
  }
  bool same = read->n_phrases == notebook->n_phrases;
  for (size_t p = 0; p < notebook->n_phrases && same; p++) {
    same = is_same_phrase(&notebook->phrase[p], &read->phrase[p]);
  }
  if (!same) {
    cw_notebook_free(read);
  }
  return same ? CW_OK : CW_ERR_BAD_ARG;
}

static const CwPin *find_pin(const CwNotePhrase *phrase, double count)
{
  for (size_t k = 0; k < phrase->n_pins; k++) {
    if (fabs(phrase->pin[k].count - count) < 1e-3) {
      return &phrase->pin[k];
    }
  }
  return NULL;
}

/// Whether a text is the notes with that pin (NaN: without). @return CW_OK when it is.
static CwStatus check(const CwNotebook *notebook, const char *text, size_t size, size_t phrase, double count,
                      double time_s)
{
  CwNotebook read;
  const CwStatus status = desk_same_but_pins(notebook, text, size, &read);
  if (status != CW_OK) {
    return status;
  }
  const CwPin *pin = find_pin(&read.phrase[phrase], count);
  const bool good = isnan(time_s) ? !pin : pin && fabs(pin->time_s - time_s) < same_s;
  cw_notebook_free(&read);
  return good ? CW_OK : CW_ERR_BAD_ARG;
}

/// Write the line with pins on its ones up to `phrase`, and with the pin of `count` at its new time.
static char *write_line(const DeskNotes *notes, size_t phrase, double count, double time_s, size_t *length)
{
  const CwNotebook *notebook = notes->notebook;
  const DeskGroup group = desk_group(notebook, phrase);
  const CwNoteLine *line = &notebook->line[notebook->phrase[phrase].line - 1];
  const CwPin *old = find_pin(&notebook->phrase[phrase], count);
  const CwRetime time = {old ? old->time_s : 0, time_s};
  const CwPin *first_one = find_pin(&notebook->phrase[group.first], 1);
  double *pin_s = cw_new(group.end - group.first, sizeof *pin_s);
  char *text = NULL;
  FILE *out = pin_s ? open_memstream(&text, length) : NULL;
  if (out) {
    CwRetiming retiming = {.time = &time, .n = old != NULL, .pin_s = pin_s, .hold_until_s = NAN};
    for (size_t p = group.first; p <= phrase && count == 1; p++) {
      const CwPin *pin = find_pin(&notebook->phrase[p], 1);
      pin_s[retiming.n_pins++] = p == phrase ? time_s : pin ? pin->time_s : cw_count_line_start(notes->line, p);
    }
    retiming.pinned = count != 1 || (first_one && first_one->line == notebook->phrase[phrase].line);
    cw_retime_line(notebook->text + line->offset, line->length, &retiming, out);
    if (fclose(out) != 0) {
      free(text);
      text = NULL;
    }
  }
  free(pin_s);
  return text;
}

/// Put a mark with a pin into a line, at the first place from its end on where it is read as that and as nothing else.
static CwStatus insert_mark(const CwNotebook *notebook, size_t phrase, double count, double time_s, char **text,
                            size_t *size)
{
  static const char *const sub[] = {"", "e", "&", "a"};
  const CwNoteLine *line = &notebook->line[notebook->phrase[phrase].line - 1];
  const char *words = notebook->text + line->offset;
  char time[32];
  char mark[80];
  cw_format_pin(time_s, time);
  snprintf(mark, sizeof mark, " %d%s@%s", (int)count, sub[(int)round(4 * (count - floor(count))) % 4], time);
  size_t at = strcspn(words, ";\r\n");
  at = at > line->length ? line->length : at;
  for (CwStatus status = CW_ERR_BAD_ARG;; at--) {
    const bool place = at == 0 || words[at] == ' ' || words[at] == ';' || words[at] == '\r' || words[at] == '\n' ||
                       at == line->length || words[at] == '\0';
    if (place && (at == 0 || words[at - 1] != ' ')) {
      const DeskText all = {notebook->text, notebook->size};
      *text = desk_replace(all, line->offset + at, line->offset + at, (DeskText){mark, strlen(mark)}, size);
      status = *text ? check(notebook, *text, *size, phrase, count, time_s) : CW_ERR_NO_MEM;
      if (status == CW_OK) {
        return status;
      }
      free(*text);
      *text = NULL;
      if (status == CW_ERR_NO_MEM) {
        return status;
      }
    }
    if (at == 0) {
      return CW_ERR_BAD_ARG;
    }
  }
}

CwStatus desk_edit_pin(const DeskNotes *notes, size_t phrase, double count, double time_s, char **text, size_t *size)
{
  const CwNotebook *notebook = notes->notebook;
  *text = NULL;
  if (phrase >= notebook->n_phrases || !(count >= 1 && count < notebook->phrase[phrase].counts + 1.0) ||
      !(time_s >= 0 && time_s < 50000)) {
    return CW_ERR_BAD_ARG;
  }
  CwStatus status = CW_ERR_BAD_ARG;
  if (count == 1 || find_pin(&notebook->phrase[phrase], count)) {
    size_t length = 0;
    char *line = write_line(notes, phrase, count, time_s, &length);
    *text = line ? desk_replace_line(notebook, notebook->phrase[phrase].line, line, length, size) : NULL;
    status = *text ? check(notebook, *text, *size, phrase, count, time_s) : CW_ERR_NO_MEM;
    free(line);
  } else {
    return insert_mark(notebook, phrase, count, time_s, text, size);
  }
  if (status != CW_OK) {
    free(*text);
    *text = NULL;
  }
  return status;
}

/// Where the mark before an '@' begins: its digits and the letter of a sub-count.
static size_t mark_begin(const char *text, size_t from, size_t at)
{
  size_t i = at;
  while (i > from && strchr("0123456789&ea", text[i - 1])) {
    i--;
  }
  return i;
}

CwStatus desk_edit_unpin(const DeskNotes *notes, size_t phrase, double count, char **text, size_t *size)
{
  const CwNotebook *notebook = notes->notebook;
  *text = NULL;
  if (phrase >= notebook->n_phrases || !find_pin(&notebook->phrase[phrase], count)) {
    return CW_ERR_BAD_ARG;
  }
  const CwNoteLine *line = &notebook->line[notebook->phrase[phrase].line - 1];
  const DeskText all = {notebook->text, notebook->size};
  const size_t end = line->offset + line->length;
  for (size_t at = line->offset; at < end; at++) {
    if (all.text[at] != '@') {
      continue;
    }
    size_t to = at + 1;
    to += strspn(all.text + to, " \t");
    to += strspn(all.text + to, "0123456789:.,");
    const size_t after = to + strspn(all.text + to, " \t");
    const size_t mark = mark_begin(all.text, line->offset, at);
    const size_t before = mark > line->offset && all.text[mark - 1] == ' ' ? mark - 1 : mark;
    const bool leads = strspn(all.text + line->offset, " \t") == at - line->offset;
    const size_t from[] = {leads ? at : before, mark, at, at};
    const size_t until[] = {leads ? after : to, after, to, after};
    for (size_t k = 0; k < 4; k++) { // with the mark that was there for it alone, or else the pin alone
      *text = desk_replace(all, from[k], until[k] < end ? until[k] : end, (DeskText){"", 0}, size);
      const CwStatus status = *text ? check(notebook, *text, *size, phrase, count, NAN) : CW_ERR_NO_MEM;
      if (status == CW_OK) {
        return status;
      }
      free(*text);
      *text = NULL;
      if (status == CW_ERR_NO_MEM) {
        return status;
      }
    }
  }
  return CW_ERR_BAD_ARG;
}
