// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/repeats.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "notes/words.h"

static const char *const other_side[] = {"on the other side", "to the other side",
                                         "the other side",    "other side",
                                         "on the other leg",  "other leg",
                                         "to the left",       "on the left",
                                         "to the right",      "on the right",
                                         "to other side",     "on other side",
                                         "mirrored",          NULL};

/// A whole line of these alone is the phrase before again.
static const char *const side_alone[] = {"on the other side", "the other side", "other side",
                                         "on the other leg",  "other leg",      NULL};

static const char *const repeat_word[] = {"repeat", "rpt", "same as", "same", NULL};
static const char *const phrase_word[] = {"phrases", "phrase", "eights", "eight", "numbers", "number", "no.", NULL};
static const char *const all_word[] = {
    "all", "from the top", "from top", "the whole", "from the start", "from the beginning", NULL};
static const char *const ordinal_end[] = {"st", "nd", "rd", "th", NULL};
static const char *const times_word[] = {"x", "times", "time", NULL};
static const char *const before_word[] = {"before", "above", "the one before", "last", "the last", NULL};

static size_t skip_commas(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && strchr(" ,.", text->key[i])) {
    i++;
  }
  return i;
}

/// "x2" or "x 2" at `i`.
static bool match_times(const CwLineText *text, size_t i, size_t end, size_t *next, unsigned *times)
{
  if (i >= end || text->key[i] != 'x') {
    return false;
  }
  const size_t number = cw_skip_blanks(text, i + 1, end);
  const size_t after = cw_read_digits(text, number, end, times);
  if (after == number || (after < end && cw_is_word_character(text->key[after]))) {
    return false;
  }
  *next = after;
  return true;
}

/// The same, or "2x" or "2 times".
static bool match_so_often(const CwLineText *text, size_t i, size_t end, size_t *next, unsigned *times)
{
  if (match_times(text, i, end, next, times)) {
    return true;
  }
  const size_t after = cw_read_digits(text, i, end, times);
  return after > i && cw_match_any(text, cw_skip_blanks(text, after, end), end, times_word, next);
}

/// True when [i, end) is "x2", in brackets or not, and perhaps a side; nothing else.
static bool match_times_to_end(const CwLineText *text, size_t i, size_t end, CwAgain *again)
{
  const bool bracket = i < end && text->key[i] == '(';
  if (!match_times(text, bracket ? i + 1 : i, end, &i, &again->times)) {
    return false;
  }
  i = skip_commas(text, i, end);
  again->other_side = cw_match_any(text, i, end, other_side, &i);
  i = skip_commas(text, i, end);
  if (bracket) {
    return i + 1 == end && text->key[i] == ')';
  }
  return i == end;
}

/// Where the last "x2" of [i, end) may begin: an 'x' or "(x" that no letter stands before. `end` when there is none.
static size_t last_times(const CwLineText *text, size_t i, size_t end)
{
  const size_t first_word = cw_word_end(text, i, end);
  for (size_t x = end; x > i; x--) {
    if (text->key[x - 1] != 'x') {
      continue;
    }
    const size_t at = x - 1;
    const char before = at > i ? text->key[at - 1] : ' ';
    if (before == '(') {
      return at - 1;
    }
    if (strchr(" ,", before) || (cw_is_digit(before) && first_word > at)) { // "8x4" is a line's start
      return at;
    }
  }
  return end;
}

size_t cw_take_times(CwParser *parser, size_t i, size_t end, CwAgain *again)
{
  const CwLineText *text = &parser->text;
  const size_t at = last_times(text, i, end);
  if (!match_times_to_end(text, at, end, again)) {
    *again = (CwAgain){.times = 1};
    return end;
  }
  if (again->times == 0) {
    cw_diagnose_found(parser, at, end, "a number of times from 1");
    again->times = 1;
  }
  return cw_trim_blanks(text, i, at);
}

/// One phrase or a range of them, by number.
typedef struct {
  size_t first;
  size_t last;
} Reference;

enum { MOST_REFERENCES = 32 };

/// The phrases that a repeat names.
typedef struct {
  Reference reference[MOST_REFERENCES];
  size_t n;
} References;

/// Keep what exists of a reference written in [i, end); say what does not.
static void keep_reference(CwParser *parser, size_t i, size_t end, unsigned first, unsigned last, References *all)
{
  const size_t existing = parser->notebook->n_phrases;
  char wanted[64] = "a phrase before this one";
  if (existing > 0) {
    snprintf(wanted, sizeof wanted, "a phrase from 1 to %zu", existing);
  }
  if (first == 0 || first > last || last > existing) {
    cw_diagnose_found(parser, i, end, wanted);
  }
  if (first > 0 && first <= last && first <= existing) {
    all->reference[all->n++] = (Reference){first - 1, (last < existing ? last : existing) - 1};
  }
}

/// The number after what parts two references: a comma, "&", "+" or "and". `end` when there is none.
static size_t next_reference(const CwLineText *text, size_t i, size_t end)
{
  size_t next = cw_skip_blanks(text, i, end);
  if (next < end && strchr(",&+", text->key[next])) {
    next++;
  } else if (!cw_match_words(text, next, end, "and", &next)) {
    return end;
  }
  next = cw_skip_blanks(text, next, end);
  return next < end && cw_is_digit(text->key[next]) ? next : end;
}

/// "3", "3-6"; several unless `one`. @return The first character after them.
static size_t read_references(CwParser *parser, size_t i, size_t end, bool one, References *all)
{
  const CwLineText *text = &parser->text;
  while (all->n < MOST_REFERENCES) {
    unsigned first = 0;
    size_t after = cw_read_digits(text, i, end, &first);
    unsigned last = first;
    (void)cw_match_any(text, after, end, ordinal_end, &after);
    const size_t dash = cw_skip_blanks(text, after, end);
    if (dash < end && text->key[dash] == '-') {
      const size_t number = cw_skip_blanks(text, dash + 1, end);
      const size_t stop = cw_read_digits(text, number, end, &last);
      after = stop > number ? stop : after;
    }
    keep_reference(parser, i, after, first, last, all);
    const size_t next = next_reference(text, after, end);
    if (one || next == end) {
      return after;
    }
    i = next;
  }
  return i;
}

/// What is repeated. @return false when the words are no repeat after all ("repeat the turns").
static bool read_what(CwParser *parser, size_t *i, size_t end, bool one, References *all)
{
  const CwLineText *text = &parser->text;
  const unsigned existing = (unsigned)parser->notebook->n_phrases;
  unsigned times = 0;
  size_t at = skip_commas(text, *i, end);
  if (cw_match_any(text, at, end, phrase_word, &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  *i = at;
  if (cw_match_any(text, at, end, all_word, i)) {
    keep_reference(parser, parser->begin, end, existing ? 1 : 0, existing, all);
  } else if (at == end || cw_match_any(text, at, end, before_word, i) ||
             cw_match_any(text, at, end, other_side, &(size_t){0}) ||
             match_so_often(text, at, end, &(size_t){0}, &times)) {
    keep_reference(parser, parser->begin, end, existing, existing, all);
  } else if (cw_is_digit(text->key[at])) {
    *i = read_references(parser, at, end, one, all);
    (void)cw_match_any(text, cw_skip_blanks(text, *i, end), end, phrase_word, i); // "2nd phrase"
  } else {
    return false;
  }
  return true;
}

/// Sides and times after what is repeated. @return Where other words begin, or `end`.
static size_t read_again(CwParser *parser, size_t i, size_t end, CwAgain *again)
{
  const CwLineText *text = &parser->text;
  *again = (CwAgain){.times = 1};
  for (;;) {
    i = skip_commas(text, i, end);
    if (cw_match_any(text, i, end, other_side, &i)) {
      again->other_side = true;
      continue;
    }
    const size_t at = i;
    unsigned times = 0;
    if (!match_so_often(text, i, end, &i, &times)) {
      return i;
    }
    if (times == 0) {
      cw_diagnose_found(parser, at, i, "a number of times from 1");
    }
    again->times = times ? times : 1;
  }
}

/// A repeat of nothing still takes its place in the dance.
static void write_bare(CwParser *parser, size_t i, size_t end, const CwLineStart *start)
{
  CwDraft draft;
  cw_draft_begin(parser, &draft);
  draft.phrase.counts = start->counts ? start->counts : draft.phrase.counts;
  draft.phrase.counts_given = start->counts > 0;
  cw_draft_start(parser, &draft, start);
  cw_remark_add(parser, &draft.phrase.remark, i, end);
  cw_draft_end(parser, &draft);
}

static void write_out(CwParser *parser, const References *all, const CwAgain *again, const CwLineStart *start)
{
  CwLineStart later = *start; // its pins and what else is of the first alone
  later.n_pins = 0;
  const CwLineStart *now = start;
  bool told = false;
  for (unsigned t = 0; t < again->times; t++) {
    for (size_t r = 0; r < all->n; r++) {
      for (size_t k = all->reference[r].first; k <= all->reference[r].last; k++) {
        if (parser->full || cw_repeats_cut(parser, &told)) {
          return;
        }
        cw_write_again(parser, k, again->other_side, now);
        now = &later;
      }
    }
  }
}

bool cw_read_repeat(CwParser *parser, size_t i, size_t end, const CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  const size_t begin = i;
  size_t side_end = 0;
  References all = {.n = 0};
  CwAgain again = {.times = 1};
  const bool alone = cw_match_any(text, i, end, side_alone, &side_end) && skip_commas(text, side_end, end) == end;
  if (!alone && !cw_match_any(text, i, end, repeat_word, &i)) {
    return false;
  }
  if (!read_what(parser, &i, end, text->key[begin] == 's', &all)) { // "same as 5, 7 turn": one
    if (text->key[begin] == 'r') {
      cw_diagnose_found(parser, cw_skip_blanks(text, i, end), end, "the numbers of phrases");
    }
    return false;
  }
  i = read_again(parser, i, end, &again);
  const size_t first = parser->notebook->n_phrases;
  if (all.n == 0) {
    write_bare(parser, begin, end, start);
    return true;
  }
  write_out(parser, &all, &again, start);
  if (!parser->full && parser->notebook->n_phrases > first) {
    cw_remark_add(parser, &parser->notebook->phrase[first].remark, i, end);
  }
  return true;
}
