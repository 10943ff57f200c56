// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/holds.h"

#include <math.h>
#include <string.h>

#include "notes/words.h"

static const char *const hold_word[] = {"hold", "pause", "fermata", "applause", NULL};
static const char *const second_word[] = {"s", "sec", "secs", "second", "seconds", NULL};

/// How far a hold was understood.
typedef enum { NO_HOLD, BARE_HOLD, TIMED_HOLD, BAD_HOLD } Understood;

/// "until @1:20".
static Understood read_until(const CwLineText *text, size_t at, size_t *next, size_t end, CwHold *hold)
{
  at = cw_skip_blanks(text, at, end);
  if (at < end && text->key[at] == '@') {
    at = cw_skip_blanks(text, at + 1, end);
  }
  return cw_read_time(text, at, end, next, &hold->until_s) ? TIMED_HOLD : BAD_HOLD;
}

/// "6s", "1.5 seconds".
static bool read_seconds(const CwLineText *text, size_t *i, size_t end, double *seconds)
{
  unsigned whole = 0;
  size_t at = cw_read_digits(text, *i, end, &whole);
  double value = whole;
  if (at == *i) {
    return false;
  }
  if (at + 1 < end && strchr(".,", text->key[at]) && cw_is_digit(text->key[at + 1])) {
    at++;
    for (double part = 0.1; at < end && cw_is_digit(text->key[at]); at++, part /= 10) {
      value += part * (text->key[at] - '0');
    }
  }
  if (!cw_match_any(text, cw_skip_blanks(text, at, end), end, second_word, i)) {
    return false;
  }
  *seconds = value;
  return true;
}

/// "0:06" or seconds. A number alone is counts, and no hold.
static bool read_length(const CwLineText *text, size_t *i, size_t end, CwHold *hold)
{
  size_t at = cw_skip_blanks(text, *i, end);
  if (cw_match_words(text, at, end, "for", &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  const size_t from = at;
  double length_s = 0;
  if (!read_seconds(text, &at, end, &length_s) &&
      !(cw_read_time(text, from, end, &at, &length_s) && memchr(text->key + from, ':', at - from))) {
    return false;
  }
  hold->length_s = length_s;
  *i = at;
  return true;
}

static Understood read_hold(const CwLineText *text, size_t *i, size_t end, CwHold *hold)
{
  *hold = (CwHold){.until_s = NAN};
  size_t at = *i;
  if (!cw_match_any(text, at, end, hold_word, &at)) {
    return NO_HOLD;
  }
  at = cw_skip_blanks(text, at, end);
  *i = at;
  if (cw_match_words(text, at, end, "until", &at)) {
    return read_until(text, at, i, end, hold);
  }
  if (read_length(text, i, end, hold)) {
    return TIMED_HOLD;
  }
  return at == end || strchr("(,:-", text->key[at]) || (text->key[at] == '.' && at + 1 == end) ? BARE_HOLD : NO_HOLD;
}

size_t cw_take_hold(const CwParser *parser, size_t i, size_t end, CwHold *hold)
{
  const CwLineText *text = &parser->text;
  for (size_t at = end; at > i + 1; at--) {
    size_t stop = at - 1;
    if (text->key[stop] == 'h' && text->key[stop - 1] == ' ' && cw_match_words(text, stop, end, "hold", &(size_t){0})) {
      const bool timed = read_hold(text, &stop, end, hold) == TIMED_HOLD && stop == end;
      return timed ? cw_trim_blanks(text, i, at - 1) : end;
    }
  }
  return end;
}

void cw_hold_last(CwParser *parser, const CwHold *hold)
{
  CwNotePhrase *phrase = &parser->notebook->phrase[parser->notebook->n_phrases - 1];
  phrase->hold_after = true;
  phrase->hold_s += hold->length_s;
  if (!isnan(hold->until_s)) {
    phrase->hold_until_s = hold->until_s;
  }
}

/// A pin before "hold" pins nothing, as a hold has no one. @return Where the hold's word may stand.
static size_t skip_pin(const CwParser *parser, bool *pinned)
{
  const CwLineText *text = &parser->text;
  size_t i = parser->begin;
  double time_s = 0;
  *pinned =
      text->key[i] == '@' && cw_read_time(text, cw_skip_blanks(text, i + 1, parser->end), parser->end, &i, &time_s);
  return cw_skip_blanks(text, i, parser->end);
}

bool cw_read_hold_line(CwParser *parser)
{
  const CwLineText *text = &parser->text;
  bool pinned = false;
  CwHold hold;
  size_t i = skip_pin(parser, &pinned);
  const size_t word = i;
  const Understood understood = read_hold(text, &i, parser->end, &hold);
  if (understood == NO_HOLD) {
    return false;
  }
  if (pinned) {
    cw_diagnose(parser, parser->begin, "a hold has no one to pin: write 'hold until @...' for its end");
  }
  if (understood == BAD_HOLD) {
    cw_diagnose_found(parser, i, parser->end, "'until' and a time");
  }
  if (parser->notebook->n_phrases == 0) {
    cw_diagnose_found(parser, parser->begin, parser->end, "a phrase before the hold");
    cw_remark_add(parser, &parser->remark, parser->begin, parser->end);
    return true;
  }
  cw_hold_last(parser, &hold);
  char **remark = &parser->notebook->phrase[parser->notebook->n_phrases - 1].remark;
  if (!cw_match_words(text, word, parser->end, "hold", &(size_t){0})) {
    cw_remark_add(parser, remark, word, cw_word_end(text, word, i)); // "applause" says why
  }
  while (i < parser->end && strchr(" ,.:-", text->key[i])) {
    i++;
  }
  cw_remark_add(parser, remark, i, parser->end);
  return true;
}
