// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/holds.h"
#include "notes/lead.h"
#include "notes/parser.h"
#include "notes/repeats.h"
#include "notes/steps.h"
#include "notes/words.h"

/// "@ 1:02.35" at the line's start. @return The first character after it; `i` when it is no pin.
static size_t read_start_pin(CwParser *parser, size_t i, CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  const size_t at = i;
  const size_t time = cw_skip_blanks(text, i + 1, parser->end);
  CwPin pin = {.count = 1, .line = parser->line, .column = at + 1};
  if (!cw_read_time(text, time, parser->end, &i, &pin.time_s)) {
    cw_diagnose_found(parser, time, cw_word_end(text, time, parser->end), "a time after '@'");
    return at;
  }
  if (!cw_grow(&start->pin, &start->pin_capacity, start->n_pins, sizeof *start->pin)) {
    parser->full = true;
    return at;
  }
  start->pin[start->n_pins++] = pin;
  return i;
}

/// "[role]" at the line's start. @return The first character after it; `i` when it is none.
static size_t read_role(CwParser *parser, size_t i, CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  const char *close = memchr(text->key + i, ']', parser->end - i);
  if (!close) {
    cw_diagnose_found(parser, parser->end, parser->end, "']' after the role");
    return i;
  }
  const size_t end = (size_t)(close - text->key);
  if (cw_skip_blanks(text, i + 1, end) == end) {
    cw_diagnose_found(parser, end, end + 1, "a role in the brackets");
    return i;
  }
  start->role = i + 1;
  start->role_end = end;
  return end + 1;
}

/// What stands before the words, in any order: a bullet, the phrase's own number, pins and a role.
static size_t read_start(CwParser *parser, CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  size_t i = parser->begin;
  if (i + 1 < parser->end && strchr("*-", text->key[i]) && text->key[i + 1] == ' ') {
    i = cw_skip_blanks(text, i, parser->end) + 1;
  }
  for (size_t before = parser->end + 1; i != before && i < parser->end;) {
    before = i;
    i = cw_skip_blanks(text, i, parser->end);
    if (text->key[i] == '@') {
      i = read_start_pin(parser, i, start);
    } else if (text->key[i] == '[' && start->role_end == 0) {
      i = read_role(parser, i, start);
    } else {
      i = cw_skip_own_number(parser, i, parser->end);
    }
  }
  return cw_skip_blanks(text, i, parser->end);
}

/// "4x8" with nothing else is four eights, though "8 x4" is the rule: nobody dances eight fours that way.
static void swap_counts_and_times(const CwParser *parser, CwLead *lead, CwAgain *again, size_t end)
{
  if (lead->counts > 0 && lead->next >= end && again->times == parser->counts_per_phrase &&
      lead->counts != parser->counts_per_phrase) {
    again->times = lead->counts;
    lead->counts = parser->counts_per_phrase;
  }
}

static void read_phrase(CwParser *parser, size_t i, size_t end, CwLineStart *start)
{
  CwHold hold = {0};
  CwAgain again;
  CwLead lead;
  CwDraft draft;
  const size_t words_end = cw_take_hold(parser, i, end, &hold);
  const size_t steps_end = cw_take_times(parser, i, words_end, &again);
  cw_read_lead(parser, i, steps_end, &lead);
  swap_counts_and_times(parser, &lead, &again, steps_end);
  again.times = lead.times > 0 && again.times == 1 ? lead.times : again.times;
  cw_draft_begin(parser, &draft);
  parser->phrase_lines++;
  parser->led_lines += lead.counts > 0;
  if (lead.counts > 0) {
    draft.phrase.counts = lead.counts;
    draft.phrase.counts_given = true;
  }
  cw_draft_start(parser, &draft, start);
  if (lead.pinned) {
    cw_draft_pin(parser, &draft, 1, lead.pin_s, lead.pin_at);
  }
  cw_read_steps(parser, &draft, lead.next, lead.end);
  cw_draft_end(parser, &draft);
  if (!parser->full) {
    cw_repeat_last(parser, &again);
  }
  if (!parser->full && words_end < end) {
    cw_hold_last(parser, &hold);
  }
}

/// Read [i, end) as a repeat, which a number of counts may lead: "4 same as 5".
static bool read_repeat(CwParser *parser, size_t i, CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  unsigned counts = 0;
  const size_t after = cw_read_digits(text, i, parser->end, &counts);
  if (after > i && after < parser->end && text->key[after] == ' ' && counts > 0 && counts <= CW_COUNTS_MOST) {
    start->counts = counts;
    i = cw_skip_blanks(text, after, parser->end);
  }
  return cw_read_repeat(parser, i, parser->end, start);
}

CwLineKind cw_read_phrase_line(CwParser *parser)
{
  CwLineStart start = {0};
  const size_t first = parser->notebook->n_phrases;
  const size_t i = read_start(parser, &start);
  const bool repeat = read_repeat(parser, i, &start);
  if (!repeat) {
    read_phrase(parser, i, parser->end, &start);
  }
  cw_pin_later_phrases(parser, first, &start);
  free(start.pin);
  return repeat ? CW_LINE_REPEAT : CW_LINE_PHRASE;
}
