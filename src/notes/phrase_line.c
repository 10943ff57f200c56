// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/canon.h"
#include "notes/endings.h"
#include "notes/holds.h"
#include "notes/lead.h"
#include "notes/parser.h"
#include "notes/parts.h"
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

/// "+", "meanwhile" or "then" at `i`. @return The first character after it; `i` when it is none.
static size_t read_order(const CwParser *parser, size_t i, CwLineStart *start)
{
  static const char *const same_time[] = {"meanwhile", "at the same time", "same time", NULL};
  static const char *const later[] = {"then", "after that", NULL};
  const CwLineText *text = &parser->text;
  const size_t end = parser->end;
  size_t after = i;
  if (text->key[i] == '+' && i + 1 < end && strchr(" [", text->key[i + 1])) {
    after = i + 1;
  } else if (cw_match_any(text, i, end, later, &after)) {
    after = cw_skip_signs(text, after, end);
    start->then = after < end && text->key[after] == '['; // "then run" is a step
    return start->then ? after : i;
  } else if (!cw_match_any(text, i, end, same_time, &after)) {
    return i;
  }
  start->meanwhile = true;
  start->meanwhile_at = i;
  return cw_skip_signs(text, after, end);
}

/// "3. [She]" right after "3. [He]": the number of the phrase above says that it is the same phrase.
static size_t read_same_number(const CwParser *parser, size_t i, CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  unsigned value = 0;
  const size_t sign = cw_read_digits(text, i, parser->end, &value);
  if (sign == i || sign + 1 >= parser->end || !strchr(".)", text->key[sign]) ||
      parser->group.end == parser->group.first || value != parser->group.first + 1) {
    return i;
  }
  const size_t role = cw_skip_blanks(text, sign + 1, parser->end);
  if (role == sign + 1 || role == parser->end || text->key[role] != '[') {
    return i;
  }
  start->meanwhile = true;
  start->meanwhile_at = i;
  return role;
}

/// One of what may stand before the words. @return The first character after it; `i` when there is none.
static size_t read_start_word(CwParser *parser, size_t i, CwLineStart *start)
{
  const char c = parser->text.key[i];
  if (c == '@') {
    return read_start_pin(parser, i, start);
  }
  if (c == '[' && start->role_end == 0) {
    return read_role(parser, i, start);
  }
  size_t after = start->meanwhile || start->then ? i : read_order(parser, i, start);
  after = after > i ? after : start->ending ? i : cw_read_ending_word(parser, i, start);
  after = after > i ? after : start->meanwhile ? i : read_same_number(parser, i, start);
  return after > i ? after : cw_skip_own_number(parser, i, parser->end);
}

/// What stands before the words, in any order: a bullet, the phrase's own number, pins, a role, when it is.
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
    i = i < parser->end ? read_start_word(parser, i, start) : i;
  }
  return cw_skip_blanks(text, i, parser->end);
}

/// "4x8" with nothing else is four eights, though "8 x4" is the rule: nobody dances eight fours that way.
static void swap_counts_and_times(const CwParser *parser, CwLead *lead, CwAgain *again, size_t end)
{
  if (lead->counts > 0 && lead->next >= end && again->times == cw_usual_counts(parser) &&
      lead->counts != cw_usual_counts(parser)) {
    again->times = lead->counts;
    lead->counts = cw_usual_counts(parser);
  }
}

static void read_phrase(CwParser *parser, size_t i, size_t end, CwLineStart *start)
{
  CwHold hold = {0};
  CwCanon canon;
  CwAgain again;
  CwLead lead;
  CwDraft draft;
  const size_t words_end = cw_take_hold(parser, i, end, &hold);
  const size_t canon_end = cw_take_times(parser, i, words_end, &again);
  const size_t steps_end = cw_take_canon(parser, i, canon_end, &canon);
  cw_read_lead(parser, i, steps_end, &lead);
  swap_counts_and_times(parser, &lead, &again, steps_end);
  again.times = lead.times > 0 && again.times == 1 ? lead.times : again.times;
  cw_draft_begin(parser, &draft);
  parser->phrase_lines++;
  parser->led_lines += lead.counts > 0;
  parser->said_counts = lead.counts;
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
    cw_canon_last(parser, &canon, start, parser->notebook->n_phrases - 1);
  }
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
    parser->said_counts = counts;
    i = cw_skip_blanks(text, after, parser->end);
  }
  return cw_read_repeat(parser, i, parser->end, start);
}

/// Read the line from `i` on, after what stands before its words.
static CwLineKind read_words(CwParser *parser, size_t i, CwLineStart *start)
{
  const size_t first = parser->notebook->n_phrases;
  if (cw_read_follower(parser, i, start)) {
    return CW_LINE_PART;
  }
  const bool beside = cw_part_begins(parser, start);
  const bool repeat = read_repeat(parser, i, start);
  if (!repeat && !parser->full) {
    read_phrase(parser, i, parser->end, start);
  }
  parser->within = 0;
  parser->meanwhile = false;
  if (parser->full || (beside && cw_part_fold(parser, start, first))) {
    return parser->notebook->n_phrases > first && !beside ? CW_LINE_PHRASE : CW_LINE_PART;
  }
  cw_group_begin(parser, start, first);
  return repeat ? CW_LINE_REPEAT : CW_LINE_PHRASE;
}

CwLineKind cw_read_phrase_line(CwParser *parser)
{
  CwLineStart start = {0};
  const size_t first = parser->notebook->n_phrases;
  parser->said_counts = 0;
  const size_t i = read_start(parser, &start);
  CwLineKind kind = CW_LINE_ENDING;
  if (!cw_ending_begins(parser, &start, i == parser->end) && !parser->full) {
    kind = read_words(parser, i, &start);
    cw_ending_line_over(parser);
  }
  cw_pin_later_phrases(parser, first, &start);
  free(start.pin);
  return kind;
}
