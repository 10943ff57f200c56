// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/edit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/format.h"
#include "base/memory.h"
#include "desk/difference.h"
#include "notes/retime.h"

static const char *line_end_of(const CwNotebook *notebook)
{
  return strstr(notebook->text, "\r\n") ? "\r\n" : "\n";
}

/// Read a new text. On failure, or when `good` says that it is not what was wanted, there is none.
static CwStatus read_back(char **text, size_t size, const CwNotebook *before, const void *wanted,
                          bool (*good)(const CwNotebook *before, const CwNotebook *read, const void *wanted))
{
  CwNotebook read;
  CwStatus status = *text ? cw_notebook_parse(*text, size, &read) : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = good(before, &read, wanted) ? CW_OK : CW_ERR_BAD_ARG;
    cw_notebook_free(&read);
  }
  if (status != CW_OK) {
    free(*text);
    *text = NULL;
  }
  return status;
}

/// Whether a head line has that key. @return Where its value begins, 0 when it has not.
static size_t value_of(const char *line, size_t length, const char *key)
{
  const size_t n = strlen(key);
  size_t i = strspn(line, " \t");
  if (length < i + n || strncasecmp(line + i, key, n) != 0) {
    return 0;
  }
  i += n + strspn(line + i + n, " \t");
  return i < length && line[i] == ':' ? i + 1 : 0;
}

static bool has_level(const CwNotebook *before, const CwNotebook *read, const void *wanted)
{
  return read->n_phrases == before->n_phrases && fabs(read->head.beats_per_count - *(const double *)wanted) < 1e-9;
}

/// Where a new head line goes: behind the last one of the head.
static size_t head_end(const CwNotebook *notebook)
{
  size_t end = 0;
  for (size_t i = 0; i < notebook->n_lines && notebook->line[i].kind <= CW_LINE_HEADING; i++) {
    if (notebook->line[i].kind == CW_LINE_HEAD) {
      end = notebook->line[i].offset + notebook->line[i].length;
    }
  }
  return end;
}

CwStatus desk_edit_level(const DeskNotes *notes, double beats_per_count, char **text, size_t *size)
{
  static const char key[] = "beats per count";
  const CwNotebook *notebook = notes->notebook;
  char number[40];
  char line[100];
  *text = NULL;
  if (!(beats_per_count >= 0.25 && beats_per_count <= 16)) {
    return CW_ERR_BAD_ARG;
  }
  cw_format_fixed(number, sizeof number, beats_per_count, 3);
  for (size_t n = strlen(number); number[n - 1] == '0' || number[n - 1] == '.'; n--) { // 2.000, but not 10
    const bool point = number[n - 1] == '.';
    number[n - 1] = '\0';
    if (point) {
      break;
    }
  }
  snprintf(line, sizeof line, "%s: %s%s", key, number, line_end_of(notebook));
  for (size_t i = 0; i < notebook->n_lines && !*text; i++) {
    const CwNoteLine *old = &notebook->line[i];
    if (old->kind == CW_LINE_HEAD && value_of(notebook->text + old->offset, old->length, key)) {
      *text = desk_replace_line(notebook, i + 1, line, strlen(line), size);
    }
  }
  if (!*text) {
    const size_t at = head_end(notebook);
    *text = desk_replace((DeskText){notebook->text, notebook->size}, at, at, (DeskText){line, strlen(line)}, size);
  }
  return read_back(text, *size, notebook, &beats_per_count, has_level);
}

/// Whether a phrase is a line of steps and nothing else, so that it can be written anew.
static bool is_plain(const CwNotebook *notebook, size_t phrase)
{
  const CwNotePhrase *p = &notebook->phrase[phrase];
  const DeskGroup group = desk_group(notebook, phrase);
  bool plain = group.end - group.first == 1 && notebook->line[p->line - 1].kind == CW_LINE_PHRASE &&
               p->like == CW_NONE && p->n_parts == 0 && p->canon_apart == 0 && !p->remark;
  for (size_t k = 0; k < notebook->n_phrases && plain; k++) {
    plain = notebook->phrase[k].like != phrase; // the line of its repeat would mean another
  }
  return plain;
}

static void write_count(double count, FILE *out)
{
  static const char *const sub[] = {"", "e", "&", "a"};
  fprintf(out, "%d%s", (int)floor(count), sub[(int)round(4 * (count - floor(count))) % 4]);
}

/// Write a further count of a step: "&" behind "3", "4" behind "3&", " 4" behind "3".
static void write_further(double before, double count, FILE *out)
{
  static const char *const sub[] = {"", "e", "&", "a"};
  if (floor(count) > floor(before)) {
    fprintf(out, "%s%d", before > floor(before) ? "" : " ", (int)floor(count));
  }
  fputs(sub[(int)round(4 * (count - floor(count))) % 4], out);
}

/// Write a step's counts, those that follow without words, too, and its words. @return Steps written.
static size_t write_step(const CwNotePhrase *phrase, size_t i, double to, double shift, FILE *out)
{
  const CwStep *step = &phrase->step[i];
  const double until = step->until < to ? step->until : to - 1;
  size_t n = 1;
  fputc(' ', out);
  write_count(step->count + shift, out);
  if (until > step->count) {
    fputc('-', out);
    write_count(until + shift, out);
  }
  while (until <= step->count && i + n < phrase->n_steps && *step[n].text == '\0' && step[n].count < to &&
         step[n].until <= step[n].count) {
    write_further(step[n - 1].count + shift, step[n].count + shift, out);
    n++;
  }
  fprintf(out, "%s%s", *step->text ? " " : "", step->text);
  return n;
}

/// Write the steps from count `from` to before `to`, as counts that begin with `first`.
static void write_steps(const CwNotePhrase *phrase, double from, double to, double first, FILE *out)
{
  for (size_t i = 0; i < phrase->n_steps;) {
    const bool inside = phrase->step[i].count >= from && phrase->step[i].count < to;
    i += inside ? write_step(phrase, i, to, first - from, out) : 1;
  }
}

/// Write the pins from count `from` on to before `to`; `whose` says whether that on the one or the others.
static void write_pins(const CwNotePhrase *phrase, double from, double to, double first, bool ones, FILE *out)
{
  char time[32];
  for (size_t k = 0; k < phrase->n_pins; k++) {
    const CwPin *pin = &phrase->pin[k];
    const bool one = pin->count == from && first == 1;
    if (pin->count < from || pin->count >= to || one != ones) {
      continue;
    }
    cw_format_pin(pin->time_s, time);
    if (one) {
      fprintf(out, "@ %s ", time);
    } else {
      fputc(' ', out);
      write_count(pin->count - from + first, out);
      fprintf(out, "@%s", time);
    }
  }
}

/// Write whose phrase it is and its number of counts; in a word where a bare number might be read as something else.
static void write_lead(const CwNotePhrase *phrase, unsigned counts, bool in_words, FILE *out)
{
  if (phrase->role) {
    fprintf(out, "[%s] ", phrase->role);
  }
  fprintf(out, "%u%s", counts, in_words ? " counts" : "");
}

/// What is private at the end of a line, and its end.
static void write_tail(const CwNotebook *notebook, size_t number, FILE *out)
{
  const CwNoteLine *line = &notebook->line[number - 1];
  const char *text = notebook->text + line->offset;
  const size_t public = strcspn(text, ";\r\n");
  if (public < line->length && text[public] == ';') {
    const size_t n = strcspn(text + public, "\r\n");
    fprintf(out, " %.*s", (int)n, text + public);
  }
  fputs(line_end_of(notebook), out);
}

/// What parting and joining do not change, but for the number of phrases.
typedef struct {
  size_t phrases, counts, steps, letters;
} Sums;

static Sums sums_of(const CwNotebook *notebook)
{
  Sums sums = {.phrases = notebook->n_phrases};
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    sums.counts += notebook->phrase[p].counts;
    sums.steps += notebook->phrase[p].n_steps;
    for (size_t i = 0; i < notebook->phrase[p].n_steps; i++) {
      sums.letters += strlen(notebook->phrase[p].step[i].text);
    }
  }
  return sums;
}

static bool has_sums(const CwNotebook *before, const CwNotebook *read, const void *wanted)
{
  (void)before;
  const Sums *sums = wanted;
  const Sums now = sums_of(read);
  return now.phrases == sums->phrases && now.counts == sums->counts && now.steps == sums->steps &&
         now.letters == sums->letters;
}

/// Write notes with lines [from, to) (from 1) replaced, and with what refers to phrases behind number `last` by number
/// following them. @param more Phrases more than before, 1 or -1. @param written Taken over.
static CwStatus take(const CwNotebook *notebook, size_t from, size_t to, char *written, unsigned last, int more,
                     char **text, size_t *size)
{
  *text = NULL;
  FILE *out = written ? open_memstream(text, size) : NULL;
  for (size_t i = 1; out && i <= notebook->n_lines; i++) {
    const CwNoteLine *line = &notebook->line[i - 1];
    const char *old = notebook->text + line->offset;
    if (i == from) {
      fputs(written, out);
    } else if (line->kind == CW_LINE_REPEAT) {
      desk_renumber(old, line->length, last, more, out);
    } else if (i < from || i >= to) {
      fwrite(old, 1, line->length, out);
    }
  }
  free(written);
  if (!out || fclose(out) != 0) {
    return CW_ERR_NO_MEM;
  }
  Sums sums = sums_of(notebook);
  sums.phrases += more > 0 ? 1 : (size_t)-1;
  return read_back(text, *size, notebook, &sums, has_sums);
}

/// One phrase as two lines. @return Release with free(); NULL when memory runs out.
static char *write_parts(const CwNotebook *notebook, const CwNotePhrase *p, unsigned count, bool in_words)
{
  char *written = NULL;
  size_t length = 0;
  FILE *out = open_memstream(&written, &length);
  if (!out) {
    return NULL;
  }
  write_pins(p, 1, count, 1, true, out);
  write_lead(p, count - 1, in_words, out);
  write_steps(p, 0, count, 0, out);
  write_pins(p, 1, count, 1, false, out);
  write_tail(notebook, p->line, out);
  write_pins(p, count, p->counts + 1, 1, true, out);
  write_lead(p, p->counts - count + 1, in_words, out);
  write_steps(p, count, p->counts + 1, 1, out);
  write_pins(p, count, p->counts + 1, 1, false, out);
  fputs(line_end_of(notebook), out);
  return fclose(out) == 0 ? written : NULL;
}

CwStatus desk_edit_split(const DeskNotes *notes, size_t phrase, unsigned count, char **text, size_t *size)
{
  const CwNotebook *notebook = notes->notebook;
  *text = NULL;
  if (phrase >= notebook->n_phrases || !is_plain(notebook, phrase) || notebook->phrase[phrase].hold_after ||
      count < 2 || count > notebook->phrase[phrase].counts) {
    return CW_ERR_BAD_ARG;
  }
  const CwNotePhrase *p = &notebook->phrase[phrase];
  CwStatus status = CW_ERR_BAD_ARG;
  for (int in_words = 0; in_words < 2 && status == CW_ERR_BAD_ARG; in_words++) {
    char *written = write_parts(notebook, p, count, in_words);
    status = take(notebook, p->line, p->line + 1, written, (unsigned)phrase + 1, 1, text, size);
  }
  return status;
}

/// Two phrases as one line. @return Release with free(); NULL when memory runs out.
static char *write_joined(const CwNotebook *notebook, const CwNotePhrase *a, bool in_words)
{
  const CwNotePhrase *b = a + 1;
  char *written = NULL;
  size_t length = 0;
  FILE *out = open_memstream(&written, &length);
  if (!out) {
    return NULL;
  }
  write_pins(a, 1, a->counts + 1, 1, true, out);
  write_lead(a, a->counts + b->counts, in_words, out);
  write_steps(a, 0, a->counts + 1, 0, out);
  write_pins(a, 1, a->counts + 1, 1, false, out);
  write_steps(b, 1, b->counts + 1, a->counts + 1, out);
  write_pins(b, 1, b->counts + 1, a->counts + 1, false, out);
  write_tail(notebook, a->line, out);
  return fclose(out) == 0 ? written : NULL;
}

CwStatus desk_edit_join(const DeskNotes *notes, size_t phrase, char **text, size_t *size)
{
  const CwNotebook *notebook = notes->notebook;
  *text = NULL;
  if (phrase + 1 >= notebook->n_phrases || !is_plain(notebook, phrase) || !is_plain(notebook, phrase + 1) ||
      notebook->phrase[phrase].hold_after || notebook->phrase[phrase + 1].hold_after ||
      notebook->phrase[phrase + 1].line != notebook->phrase[phrase].line + 1) {
    return CW_ERR_BAD_ARG;
  }
  const CwNotePhrase *a = &notebook->phrase[phrase];
  CwStatus status = CW_ERR_BAD_ARG;
  for (int in_words = 0; in_words < 2 && status == CW_ERR_BAD_ARG; in_words++) {
    char *written = write_joined(notebook, a, in_words);
    status = take(notebook, a->line, a->line + 2, written, (unsigned)phrase + 2, -1, text, size);
  }
  return status;
}

static bool has_hold(const CwNotebook *before, const CwNotebook *read, const void *wanted)
{
  return read->n_phrases == before->n_phrases && read->phrase[*(const size_t *)wanted].hold_after;
}

CwStatus desk_edit_hold(const DeskNotes *notes, size_t phrase, double until_s, char **text, size_t *size)
{
  const CwNotebook *notebook = notes->notebook;
  *text = NULL;
  if (phrase >= notebook->n_phrases || notebook->phrase[phrase].hold_after || !(until_s >= 0 && until_s < 50000) ||
      desk_group(notebook, phrase).end != phrase + 1) {
    return CW_ERR_BAD_ARG;
  }
  const CwNoteLine *line = &notebook->line[notebook->phrase[phrase].line - 1];
  const char *end = line_end_of(notebook);
  const bool ended = line->length > 0 && strchr("\r\n", notebook->text[line->offset + line->length - 1]);
  char time[32];
  char hold[80];
  cw_format_pin(until_s, time);
  snprintf(hold, sizeof hold, "%shold until @%s%s", ended ? "" : end, time, end);
  const size_t at = line->offset + line->length;
  *text = desk_replace((DeskText){notebook->text, notebook->size}, at, at, (DeskText){hold, strlen(hold)}, size);
  return read_back(text, *size, notebook, &phrase, has_hold);
}

static bool has_fewer(const CwNotebook *before, const CwNotebook *read, const void *wanted)
{
  return read->n_phrases + *(const size_t *)wanted == before->n_phrases;
}

CwStatus desk_edit_cut(const DeskNotes *notes, size_t phrase, char **text, size_t *size)
{
  const CwNotebook *notebook = notes->notebook;
  *text = NULL;
  if (phrase >= notebook->n_phrases) {
    return CW_ERR_BAD_ARG;
  }
  const DeskGroup group = desk_group(notebook, phrase);
  const size_t n = group.end - group.first;
  const size_t at = notebook->line[notebook->phrase[phrase].line - 1].offset;
  static const char mark[] = "; not played: ";
  *text = desk_replace((DeskText){notebook->text, notebook->size}, at, at, (DeskText){mark, sizeof mark - 1}, size);
  return read_back(text, *size, notebook, &n, has_fewer);
}
