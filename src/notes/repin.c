// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/repin.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "notes/retime.h"

/// More time than this between two phrases, where the notes have no hold, is one in the copy.
static const double shortest_hold_s = 0.3;

/// The copy being written.
typedef struct {
  const CwNotebook *notebook;
  const CwRepin *repin;
  bool drop;      ///< make private what the recording lacks
  bool named;     ///< the head lines are written
  CwRetime *time; ///< room for those of a line
  double *pin_s;  ///< room for the ones of a line
  FILE *out;
} Copy;

/// The phrases written on a line.
typedef struct {
  size_t first, end;
} Phrases;

static bool is_kept(const Copy *copy, size_t phrase)
{
  return copy->repin->kept[phrase] != SIZE_MAX;
}

static double start_of(const Copy *copy, size_t phrase)
{
  return cw_count_line_start(copy->repin->line, copy->repin->kept[phrase]);
}

static double end_of(const Copy *copy, size_t phrase)
{
  return copy->repin->line->phrase[copy->repin->kept[phrase]].end_s;
}

/// Those of line `number` (from 1), or where they would stand. Phrases are in the order of their lines.
static Phrases phrases_of(const CwNotebook *notebook, size_t number)
{
  size_t low = 0;
  size_t high = notebook->n_phrases;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (notebook->phrase[middle].line < number) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  Phrases phrases = {low, low};
  while (phrases.end < notebook->n_phrases && notebook->phrase[phrases.end].line == number) {
    phrases.end++;
  }
  return phrases;
}

/// The first phrase from `from` on that the recording has; n_phrases when there is none.
static size_t next_kept(const Copy *copy, size_t from)
{
  while (from < copy->notebook->n_phrases && !is_kept(copy, from)) {
    from++;
  }
  return from;
}

static const char *line_end_of(const CwNotebook *notebook)
{
  return strstr(notebook->text, "\r\n") ? "\r\n" : "\n";
}

static void write_names(Copy *copy)
{
  const char *end = line_end_of(copy->notebook);
  fprintf(copy->out, "recording: %s%scarried from: %s%s", copy->repin->recording, end, copy->repin->origin, end);
  copy->named = true;
}

/// Whether a head line has that key.
static bool has_key(const char *line, size_t length, const char *key)
{
  const size_t begin = cw_line_begin(line, length);
  const size_t n = strlen(key);
  size_t i = begin + n;
  if (length - begin <= n || strncasecmp(line + begin, key, n) != 0) {
    return false;
  }
  while (i < length && line[i] == ' ') {
    i++;
  }
  return i < length && line[i] == ':';
}

static void write_head(Copy *copy, const char *line, size_t length)
{
  if (has_key(line, length, "recording")) {
    if (!copy->named) {
      write_names(copy);
    }
  } else if (has_key(line, length, "first one")) {
    char text[32];
    if (is_kept(copy, 0)) { // the copy's pins say it too, but she wrote it
      cw_format_pin(start_of(copy, 0), text);
      fprintf(copy->out, "first one: %s%s", text, line_end_of(copy->notebook));
    }
  } else if (!has_key(line, length, "carried from")) {
    fwrite(line, 1, length, copy->out);
  }
}

/// The pins of a line and the end of its hold, old and new. @return How many.
static size_t collect_times(const Copy *copy, Phrases phrases, CwRetime *time, bool *one_pinned)
{
  size_t n = 0;
  for (size_t p = phrases.first; p < phrases.end; p++) {
    const CwNotePhrase *phrase = &copy->notebook->phrase[p];
    for (size_t k = 0; k < phrase->n_pins && is_kept(copy, p); k++) {
      const CwPin *pin = &phrase->pin[k];
      time[n++] = (CwRetime){pin->time_s, cw_count_line_time(copy->repin->line, copy->repin->kept[p], pin->count)};
      *one_pinned = *one_pinned || (p == phrases.first && pin->count == 1 && pin->line == phrase->line);
    }
  }
  return n;
}

/// When the hold before a phrase ends: times in notes go up, so just before its one.
static double before(const Copy *copy, size_t phrase)
{
  return start_of(copy, phrase) - 0.001;
}

/// When the hold after a phrase ends in the recording; NaN where no phrase follows.
static double hold_end(const Copy *copy, size_t phrase)
{
  const size_t next = next_kept(copy, phrase + 1);
  return next < copy->notebook->n_phrases ? before(copy, next) : (double)NAN;
}

/// Put in a hold where the recording has more between two phrases than the notes.
static void write_gap(Copy *copy, size_t next)
{
  size_t last = next;
  while (last > 0 && !is_kept(copy, last - 1)) {
    last--;
  }
  if (last == 0 || copy->notebook->phrase[last - 1].hold_after) {
    return;
  }
  if (before(copy, next) - end_of(copy, last - 1) >= shortest_hold_s) {
    char text[32];
    cw_format_pin(before(copy, next), text);
    fprintf(copy->out, "hold until @%s%s", text, line_end_of(copy->notebook));
  }
}

static void write_private(const Copy *copy, const char *line, size_t length)
{
  fputs("; not played: ", copy->out);
  fwrite(line, 1, length, copy->out);
}

static void write_phrases(Copy *copy, Phrases phrases, const char *line, size_t length)
{
  const size_t first = next_kept(copy, phrases.first);
  if (first >= phrases.end && copy->drop) {
    write_private(copy, line, length);
    return;
  }
  CwRetiming retiming = {.time = copy->time, .pin_s = copy->pin_s, .hold_until_s = NAN};
  retiming.n = collect_times(copy, phrases, copy->time, &retiming.pinned);
  if (first == phrases.first) {
    write_gap(copy, first);
  }
  for (size_t p = phrases.first; p < phrases.end && is_kept(copy, p); p++) {
    copy->pin_s[retiming.n_pins++] = start_of(copy, p);
  }
  const CwNotePhrase *last = &copy->notebook->phrase[phrases.end - 1];
  if (last->hold_after && is_kept(copy, phrases.end - 1)) {
    const double until_s = hold_end(copy, phrases.end - 1);
    retiming.hold_until_s = until_s;
    if (isfinite(until_s) && isfinite(last->hold_until_s)) {
      copy->time[retiming.n++] = (CwRetime){last->hold_until_s, until_s};
    }
  }
  cw_retime_line(line, length, &retiming, copy->out);
}

/// A hold on a line of its own: it follows the phrase above.
static void write_hold(Copy *copy, Phrases after, const char *line, size_t length)
{
  const size_t phrase = after.first;
  if (phrase == 0 || (copy->drop && !is_kept(copy, phrase - 1))) {
    write_private(copy, line, length);
    return;
  }
  const double until_s = is_kept(copy, phrase - 1) ? hold_end(copy, phrase - 1) : (double)NAN;
  const CwRetime end = {copy->notebook->phrase[phrase - 1].hold_until_s, until_s};
  const bool known = isfinite(end.old_s) && isfinite(end.new_s);
  const CwRetiming retiming = {.time = &end, .n = known, .pinned = true, .hold_until_s = until_s};
  cw_retime_line(line, length, &retiming, copy->out);
}

/// Bytes of the byte order mark.
static size_t mark_length(const CwNotebook *notebook)
{
  return notebook->size >= 3 && memcmp(notebook->text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

/// What another role does in the phrases of a line above: its pins get new times.
static void write_part(Copy *copy, size_t number, Phrases after, const char *line, size_t length)
{
  const CwNotebook *notebook = copy->notebook;
  const Phrases group = phrases_of(notebook, notebook->phrase[after.first - 1].line);
  if (copy->drop && next_kept(copy, group.first) >= group.end) {
    write_private(copy, line, length);
    return;
  }
  CwRetiming retiming = {.time = copy->time, .pinned = true, .hold_until_s = NAN};
  for (size_t p = group.first; p < group.end; p++) {
    const CwNotePhrase *phrase = &notebook->phrase[p];
    for (size_t k = 0; k < phrase->n_pins && is_kept(copy, p); k++) {
      const CwPin *pin = &phrase->pin[k];
      if (pin->line == number) {
        const double now_s = cw_count_line_time(copy->repin->line, copy->repin->kept[p], pin->count);
        copy->time[retiming.n++] = (CwRetime){pin->time_s, now_s};
      }
    }
  }
  cw_retime_line(line, length, &retiming, copy->out);
}

static void write_line(Copy *copy, size_t i)
{
  const CwNoteLine *line = &copy->notebook->line[i];
  const size_t mark = i == 0 ? mark_length(copy->notebook) : 0; // written already
  const char *text = copy->notebook->text + line->offset + mark;
  const size_t length = line->length - mark;
  const Phrases phrases = phrases_of(copy->notebook, i + 1);
  if (!copy->named && line->kind != CW_LINE_BLANK && line->kind != CW_LINE_HEAD && line->kind != CW_LINE_PRIVATE) {
    write_names(copy); // the head is over
  }
  if (phrases.end > phrases.first) {
    write_phrases(copy, phrases, text, length);
  } else if (line->kind == CW_LINE_PART && phrases.first > 0) {
    write_part(copy, i + 1, phrases, text, length);
  } else if (line->kind == CW_LINE_HEAD) {
    write_head(copy, text, length);
  } else if (line->kind == CW_LINE_HOLD) {
    write_hold(copy, phrases, text, length);
  } else if (line->kind == CW_LINE_COUNT_IN && copy->drop && phrases.first < copy->notebook->n_phrases &&
             !is_kept(copy, phrases.first)) {
    write_private(copy, text, length);
  } else {
    fwrite(text, 1, length, copy->out);
  }
}

/// @param drop See Copy.
static CwStatus write_copy(const CwNotebook *notebook, const CwRepin *repin, bool drop, char **text, size_t *size)
{
  size_t most = 1;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    most += notebook->phrase[p].n_pins + 1; // more than any line has
  }
  Copy copy = {.notebook = notebook, .repin = repin, .drop = drop};
  copy.time = cw_new(most, sizeof *copy.time);
  copy.pin_s = cw_new(notebook->n_phrases + 1, sizeof *copy.pin_s);
  copy.out = copy.time && copy.pin_s ? open_memstream(text, size) : NULL;
  if (!copy.out) {
    free(copy.time);
    free(copy.pin_s);
    return CW_ERR_NO_MEM;
  }
  fwrite(notebook->text, 1, mark_length(notebook), copy.out);
  if (!notebook->head.recording) {
    write_names(&copy);
  }
  for (size_t i = 0; i < notebook->n_lines; i++) {
    write_line(&copy, i);
  }
  free(copy.time);
  free(copy.pin_s);
  const bool failed = ferror(copy.out) != 0;
  return fclose(copy.out) == 0 && !failed ? CW_OK : CW_ERR_NO_MEM;
}

/// The pin on a phrase's one; NaN when there is none.
static double pinned_one(const CwNotePhrase *phrase)
{
  for (size_t k = 0; k < phrase->n_pins; k++) {
    if (phrase->pin[k].count == 1) {
      return phrase->pin[k].time_s;
    }
  }
  return NAN;
}

/// Whether a phrase of the copy is the notebook's phrase `p`, and has its pin: its line's first must, others may.
static bool is_same(const Copy *copy, size_t p, const CwNotePhrase *read, const size_t *place)
{
  const CwNotePhrase *phrase = &copy->notebook->phrase[p];
  const bool leads = p == 0 || copy->notebook->phrase[p - 1].line != phrase->line;
  const double pin_s = pinned_one(read);
  const bool may_lack = !leads && isnan(pin_s);
  const bool pinned = may_lack || !is_kept(copy, p) || fabs(pin_s - start_of(copy, p)) < 0.0006;
  const size_t like = phrase->like == CW_NONE ? CW_NONE : place[phrase->like];
  return read->counts == phrase->counts && read->n_steps == phrase->n_steps && read->like == like && pinned &&
         read->other_side == phrase->other_side;
}

/// Whether the copy is read as it should be.
static CwStatus check(const CwNotebook *notebook, const CwRepin *repin, bool drop, const char *text, size_t size)
{
  CwNotebook read;
  CwStatus status = cw_notebook_parse(text, size, &read);
  size_t *place = status ? NULL : cw_new(notebook->n_phrases, sizeof *place);
  if (!place) {
    cw_notebook_free(status ? NULL : &read);
    return CW_ERR_NO_MEM;
  }
  const Copy copy = {.notebook = notebook, .repin = repin};
  size_t n = 0;
  for (size_t p = 0; p < notebook->n_phrases && !status; p++) {
    place[p] = CW_NONE;
    const Phrases line = phrases_of(notebook, notebook->phrase[p].line);
    if (drop && next_kept(&copy, line.first) >= line.end) {
      continue;
    }
    place[p] = n;
    status = n < read.n_phrases && is_same(&copy, p, &read.phrase[n], place) ? CW_OK : CW_ERR_BAD_ARG;
    n++;
  }
  const bool named = read.head.recording && strcmp(read.head.recording, repin->recording) == 0;
  status = !status && (n != read.n_phrases || !named) ? CW_ERR_BAD_ARG : status;
  free(place);
  cw_notebook_free(&read);
  return status;
}

/// Write a copy and read it back. On error there is no text.
static CwStatus attempt(const CwNotebook *notebook, const CwRepin *repin, bool drop, char **text, size_t *size)
{
  *text = NULL;
  CwStatus status = write_copy(notebook, repin, drop, text, size);
  if (!status) {
    status = check(notebook, repin, drop, *text, *size);
  }
  if (status) {
    free(*text);
    *text = NULL;
  }
  return status;
}

CwStatus cw_notebook_repin(const CwNotebook *notebook, const CwRepin *repin, char **text, size_t *size,
                           CwMessages *messages)
{
  CwStatus status = attempt(notebook, repin, true, text, size);
  if (status == CW_ERR_BAD_ARG) {
    status = attempt(notebook, repin, false, text, size);
    if (!status) {
      status = cw_messages_add(messages,
                               "phrases that '%s' lacks stay in the copy, without pins: others are written as "
                               "their repeats",
                               repin->recording);
    }
  }
  if (status) {
    free(*text);
    *text = NULL;
  }
  return status;
}
