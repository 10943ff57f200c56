// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/lead.h"

#include <string.h>

#include "notes/bars.h"
#include "notes/marks.h"
#include "notes/words.h"

static const char *const counts_word[] = {"counts", "count", "cts", "ct", "temps", "\003", NULL};

/// "counts" at `i`, in her language.
static bool match_counts(const CwLineText *text, size_t i, size_t end, size_t *next)
{
  static const char katakana[] = "\u30ab\u30a6\u30f3\u30c8";
  const size_t characters = 4;
  if (i + characters <= end && memcmp(text->words + text->at[i], katakana, sizeof katakana - 1) == 0) {
    *next = i + characters;
    return true;
  }
  return cw_match_any(text, i, end, counts_word, next);
}

bool cw_counts_in_three(const CwParser *parser)
{
  return parser->beats_per_count == 3 && parser->metre % 3 == 0;
}

/// Pass over blanks and one sign after a number.
static size_t skip_sign(const CwLineText *text, size_t i, size_t end)
{
  i = cw_skip_blanks(text, i, end);
  if (i < end && strchr(":,.)=-", text->key[i]) && (i + 1 == end || text->key[i + 1] == ' ')) {
    i++;
  }
  return cw_skip_blanks(text, i, end);
}

/// True when the number that ends at `i` stands alone: not "1-4", "3&", "5@", "2nd" or "1.5".
static bool stands_alone(const CwLineText *text, size_t i, size_t end, unsigned value)
{
  if (i == end || skip_sign(text, i, end) == end) {
    return true;
  }
  const size_t dash = cw_skip_blanks(text, i, end);
  if (text->key[dash] == '-') { // "1 - 4 walk"
    unsigned until = 0;
    const size_t number = cw_skip_blanks(text, dash + 1, end);
    return number > dash + 1 && (cw_read_digits(text, number, end, &until) == number || until <= value);
  }
  return text->key[i] == ' ' || skip_sign(text, i, end) > i;
}

/// The marks in [i, end) that a phrase of `most` counts could have.
static bool survey(const CwParser *parser, size_t i, size_t end, unsigned most, double *first, double *greatest)
{
  CwMarkWalk walk;
  CwMark mark;
  bool any = false;
  cw_mark_walk(&walk, &parser->text, i, end, cw_counts_in_three(parser));
  while (cw_mark_next(&walk, &mark)) {
    const double until = mark.count[mark.n - 1].until;
    if (until >= most + 1.0) {
      cw_mark_reject(&walk, &mark);
      continue;
    }
    cw_mark_accept(&walk, &mark);
    *first = any ? *first : mark.count[0].count;
    *greatest = any && *greatest > until ? *greatest : until;
    any = true;
  }
  return any;
}

size_t cw_skip_own_number(CwParser *parser, size_t i, size_t end)
{
  const CwLineText *text = &parser->text;
  unsigned value = 0;
  const size_t sign = cw_read_digits(text, i, end, &value);
  if (sign == i || sign + 1 >= end || !strchr(".)", text->key[sign]) || text->key[sign + 1] != ' ') {
    return i;
  }
  const size_t next = cw_skip_blanks(text, sign + 1, end);
  const size_t own = parser->notebook->n_phrases + 1;
  if (value == own) {
    return next;
  }
  CwMarkWalk walk;
  CwMark mark;
  cw_mark_walk(&walk, text, next, end, false);
  if (!cw_mark_at(&walk, next, &mark) || mark.count[0].count > value) {
    return i; // "5. turn" is a count
  }
  cw_diagnose(parser, i, "expected %zu as this phrase's own number, found '%u'", own, value);
  return next;
}

/// "8 @ 1:02 1-4 walk". @return false when what follows is "@" without a time.
static bool read_pin_after(const CwParser *parser, size_t *i, size_t end, CwLead *lead)
{
  const CwLineText *text = &parser->text;
  if (text->key[*i] != '@') {
    return true;
  }
  lead->pin_at = *i;
  lead->pinned = cw_read_time(text, cw_skip_blanks(text, *i + 1, end), end, i, &lead->pin_s);
  *i = cw_skip_blanks(text, *i, end);
  return lead->pinned;
}

/// A number before words without marks: is it the number of counts? 2 and odd ones are rarely, unless she begins every
/// phrase with it or the phrase could have no such count.
static bool is_total(CwParser *parser, size_t i, unsigned value, bool pinned)
{
  const unsigned usual = cw_usual_counts(parser);
  const bool habit = parser->phrase_lines > 0 && parser->led_lines == parser->phrase_lines;
  if (parser->meanwhile && value < usual) { // "+ 5 look": the phrase has its number
    return false;
  }
  if (habit || value == usual) {
    return true;
  }
  if (pinned) { // "5 @ 1:04.2 turn"
    return false;
  }
  if ((value >= 4 && value % 2 == 0) || value > usual) {
    return true;
  }
  if (value > 1) {
    cw_diagnose(parser, i, "'%u' is read as count %u of %u: write '%u counts' if the phrase has %u", value, value,
                usual, value, value);
  }
  return false;
}

/// Decide by the marks that follow. The number leads `next`, where there are words.
static void decide(CwParser *parser, size_t i, size_t next, size_t end, unsigned value, CwLead *lead)
{
  if (cw_bars_find(parser, i, end, &(CwBars){0})) { // "3 2 3" is the third bar
    lead->pinned = false;
    return;
  }
  const unsigned usual = cw_usual_counts(parser);
  double first = 0;
  double greatest = 0;
  const bool any = survey(parser, next, end, usual > value ? usual : value, &first, &greatest);
  const bool total = any ? value > 1 && first < value + 1.0 : is_total(parser, i, value, lead->pinned);
  if (!total) { // a count like those after it
    lead->pinned = false;
    return;
  }
  lead->next = next;
  if (any && greatest >= value + 1.0 && value == parser->notebook->n_phrases + 1) {
    return; // the phrase's own number
  }
  lead->counts = value;
}

/// "hold 4" and nothing else: four counts of "hold".
static bool read_hold_counts(const CwParser *parser, size_t i, size_t end, CwLead *lead)
{
  const CwLineText *text = &parser->text;
  size_t words_end = i;
  if (!cw_match_words(text, i, end, "hold", &words_end)) {
    return false;
  }
  size_t at = cw_skip_blanks(text, words_end, end);
  if (cw_match_words(text, at, end, "for", &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  unsigned value = 0;
  const size_t after = cw_read_digits(text, at, end, &value);
  size_t stop = cw_skip_blanks(text, after, end);
  if (after == at || value == 0 || value > CW_COUNTS_MOST) {
    return false;
  }
  (void)match_counts(text, stop, end, &stop);
  if (stop != end) {
    return false;
  }
  *lead = (CwLead){.counts = value, .next = i, .end = words_end};
  return true;
}

/// "4x8 walk": four eights. What follows `i` is "x8".
static bool read_times_counts(const CwLineText *text, size_t i, size_t end, unsigned times, CwLead *lead)
{
  const size_t sign = cw_skip_blanks(text, i, end);
  if (sign >= end || text->key[sign] != 'x') {
    return false;
  }
  const size_t number = cw_skip_blanks(text, sign + 1, end);
  unsigned counts = 0;
  const size_t after = cw_read_digits(text, number, end, &counts);
  const size_t words = skip_sign(text, after, end);
  if (after == number || words == after || counts < 2 || counts > CW_COUNTS_MOST) {
    return false;
  }
  *lead = (CwLead){.counts = counts, .times = times, .next = words, .end = end};
  return true;
}

void cw_read_lead(CwParser *parser, size_t i, size_t end, CwLead *lead)
{
  const CwLineText *text = &parser->text;
  *lead = (CwLead){.next = i, .end = end};
  unsigned value = 0;
  const size_t after = cw_read_digits(text, i, end, &value);
  if (after == i) {
    (void)read_hold_counts(parser, i, end, lead);
    return;
  }
  size_t next = cw_skip_blanks(text, after, end);
  if (value > 0 && value <= CW_COUNTS_MOST_SAID && match_counts(text, next, end, &next)) {
    *lead = (CwLead){.counts = value, .next = skip_sign(text, next, end), .end = end};
    return;
  }
  if (value == 0 || read_times_counts(text, after, end, value, lead) || !stands_alone(text, after, end, value)) {
    return;
  }
  if (value > CW_COUNTS_MOST) {
    if (cw_read_digit_run(text, i, end, &(unsigned){0}, &(unsigned){0}) >= i + 3) {
      return;
    }
    cw_diagnose(parser, i, "expected a number of counts up to %u, found '%u'", CW_COUNTS_MOST, value);
    return;
  }
  next = skip_sign(text, after, end);
  if (next == end) {
    *lead = (CwLead){.counts = value, .next = end, .end = end};
  } else if (!cw_match_any(text, next, end, cw_how_many, &(size_t){0}) && read_pin_after(parser, &next, end, lead)) {
    decide(parser, i, next, end, value, lead);
  }
}
