// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "notes/parser.h"

/// Bytes up to which remarks are joined; a phrase with more of them is no phrase, and joining would take ever longer.
enum { LONGEST_JOINED_REMARK = 4096 };

unsigned cw_usual_counts(const CwParser *parser)
{
  return parser->within ? parser->within : parser->counts_per_phrase;
}

void cw_draft_begin(CwParser *parser, CwDraft *draft)
{
  const CwNotebook *notebook = parser->notebook;
  memset(draft, 0, sizeof *draft);
  draft->phrase.line = parser->line;
  draft->phrase.counts = cw_usual_counts(parser);
  draft->phrase.counts_given = parser->within > 0; // known by the phrase that it is danced with
  draft->phrase.section = notebook->n_sections ? notebook->n_sections - 1 : CW_NONE;
  draft->phrase.like = CW_NONE;
  draft->phrase.hold_until_s = NAN;
  draft->phrase.metre = parser->metre;
  draft->phrase.metre_unit = parser->metre_unit;
  draft->phrase.beats_per_count = parser->beats_per_count;
  draft->phrase.tempo = parser->section_tempo.high_bpm > 0 ? parser->section_tempo : parser->tempo;
}

void cw_draft_step(CwParser *parser, CwDraft *draft, double count, double until)
{
  CwNotePhrase *phrase = &draft->phrase;
  char *text = cw_copy_text("", 0);
  if (!text || !cw_grow(&phrase->step, &draft->step_capacity, phrase->n_steps, sizeof *phrase->step)) {
    free(text);
    parser->full = true;
    return;
  }
  phrase->step[phrase->n_steps++] = (CwStep){count, until, text};
}

void cw_draft_pin(CwParser *parser, CwDraft *draft, double count, double time_s, size_t i)
{
  CwNotePhrase *phrase = &draft->phrase;
  if (!cw_grow(&phrase->pin, &draft->pin_capacity, phrase->n_pins, sizeof *phrase->pin)) {
    parser->full = true;
    return;
  }
  phrase->pin[phrase->n_pins++] = (CwPin){count, time_s, parser->line, i + 1};
}

/// `*remark` followed by `more`, with "; " between.
static void join(CwParser *parser, char **remark, const char *more, size_t length)
{
  const size_t before = *remark ? strlen(*remark) : 0;
  if (before && before + length > LONGEST_JOINED_REMARK) {
    cw_diagnose(parser, 0, "more remarks on one phrase than a sheet can show");
    return;
  }
  char *joined = cw_resize(*remark, before + length + 3, 1);
  if (!joined) {
    parser->full = true;
    return;
  }
  *remark = joined;
  const size_t at = before ? before + 2 : 0;
  if (before) {
    memcpy(joined + before, "; ", 2);
  }
  memcpy(joined + at, more, length);
  joined[at + length] = '\0';
}

void cw_remark_add(CwParser *parser, char **remark, size_t from, size_t to)
{
  const CwLineText *text = &parser->text;
  from = cw_skip_blanks(text, from, to);
  to = cw_trim_blanks(text, from, to);
  if (from < to) {
    join(parser, remark, text->words + text->at[from], text->at[to] - text->at[from]);
  }
}

/// What was said for the next phrase before it came.
static void take_what_waits(CwParser *parser, CwNotePhrase *phrase)
{
  phrase->count_in = parser->count_in;
  parser->count_in = 0;
  if (!parser->remark) {
    return;
  }
  if (phrase->remark) {
    join(parser, &parser->remark, phrase->remark, strlen(phrase->remark));
    free(phrase->remark);
  }
  phrase->remark = parser->remark;
  parser->remark = NULL;
}

/// Give back the room that growing left over; most phrases have two or three steps.
static void tighten(CwNotePhrase *phrase)
{
  CwStep *step = phrase->n_steps ? cw_resize(phrase->step, phrase->n_steps, sizeof *step) : NULL;
  phrase->step = step ? step : phrase->step;
  CwPin *pin = phrase->n_pins ? cw_resize(phrase->pin, phrase->n_pins, sizeof *pin) : NULL;
  phrase->pin = pin ? pin : phrase->pin;
}

bool cw_step_is_hold(const char *text)
{
  static const char *const stay[] = {"hold",          "hold it", "hold still", "hold the pose", "hold pose",
                                     "hold position", "holds",   "freeze",     "stay",          "stay still",
                                     "stand still",   "still",   "wait",       "tenir",         "tenu"};
  const size_t length = strcspn(text, ".,!(");
  for (size_t i = 0; i < sizeof stay / sizeof stay[0]; i++) {
    if (strlen(stay[i]) == length && strncasecmp(text, stay[i], length) == 0) {
      return true;
    }
  }
  return false;
}

void cw_draft_end(CwParser *parser, CwDraft *draft)
{
  CwNotebook *notebook = parser->notebook;
  take_what_waits(parser, &draft->phrase);
  if (parser->full ||
      !cw_grow(&notebook->phrase, &parser->phrase_capacity, notebook->n_phrases, sizeof *notebook->phrase)) {
    parser->full = true;
    cw_note_phrase_free(&draft->phrase);
    return;
  }
  tighten(&draft->phrase);
  notebook->phrase[notebook->n_phrases++] = draft->phrase;
  memset(draft, 0, sizeof *draft);
}

bool cw_copy_to(CwParser *parser, const char *from, char **to)
{
  *to = from ? cw_copy_text(from, strlen(from)) : NULL;
  parser->full = parser->full || (from && !*to);
  return !from || *to;
}

size_t cw_copy_steps(CwParser *parser, const CwStep *step, size_t n, unsigned later, unsigned most, CwStep **copy)
{
  size_t kept = 0;
  *copy = cw_new(n, sizeof **copy);
  parser->full = parser->full || !*copy;
  for (size_t i = 0; i < n && !parser->full; i++) {
    if (most > 0 && step[i].count + later >= most + 1.0) {
      break;
    }
    CwStep *to = &(*copy)[kept];
    *to = step[i];
    to->count += later;
    to->until += later;
    to->until = most > 0 && to->until >= most + 1.0 ? most : to->until;
    if (!cw_copy_to(parser, step[i].text, &to->text)) {
      break;
    }
    kept++;
    parser->copied_bytes += sizeof *to + strlen(to->text);
  }
  return kept;
}

static void free_steps(CwStep *step, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    free(step[i].text);
  }
  free(step);
}

void cw_note_part_free(CwNotePart *part)
{
  free_steps(part->step, part->n_steps);
  free(part->role);
  free(part->leader);
  free(part->remark);
  memset(part, 0, sizeof *part);
}

void cw_note_phrase_free(CwNotePhrase *phrase)
{
  free_steps(phrase->step, phrase->n_steps);
  for (size_t i = 0; i < phrase->n_parts; i++) {
    cw_note_part_free(&phrase->part[i]);
  }
  free(phrase->part);
  free(phrase->pin);
  free(phrase->remark);
  free(phrase->role);
  memset(phrase, 0, sizeof *phrase);
}
