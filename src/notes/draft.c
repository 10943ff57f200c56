// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/parser.h"

/// Bytes up to which remarks are joined; a phrase with more of them is no phrase, and joining would take ever longer.
enum { LONGEST_JOINED_REMARK = 4096 };

void cw_draft_begin(CwParser *parser, CwDraft *draft)
{
  const CwNotebook *notebook = parser->notebook;
  memset(draft, 0, sizeof *draft);
  draft->phrase.line = parser->line;
  draft->phrase.counts = parser->counts_per_phrase;
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
  phrase->step[phrase->n_steps++] = (CwStep){.count = count, .until = until, .text = text};
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

void cw_note_phrase_free(CwNotePhrase *phrase)
{
  for (size_t i = 0; i < phrase->n_steps; i++) {
    free(phrase->step[i].text);
  }
  free(phrase->step);
  free(phrase->pin);
  free(phrase->remark);
  free(phrase->role);
  memset(phrase, 0, sizeof *phrase);
}
