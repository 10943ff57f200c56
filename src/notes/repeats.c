// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/repeats.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/endings.h"
#include "notes/references.h"
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

static const char *const same_word[] = {"same as", "same", NULL};
static const char *const repeat_word[] = {"repeat", "rpt", NULL};
static const char *const da_capo_word[] = {"da capo", "d.c.", "dc", NULL};
static const char *const times_word[] = {"x", "times", "time", NULL};

static size_t skip_commas(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && strchr(" ,.", text->key[i])) {
    i++;
  }
  return i;
}

bool cw_match_side(const CwLineText *text, size_t i, size_t end, size_t *next)
{
  return cw_match_any(text, i, end, other_side, next);
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

bool cw_match_so_often(const CwLineText *text, size_t i, size_t end, size_t *next, unsigned *times)
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
    if (!cw_match_so_often(text, i, end, &i, &times)) {
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
  draft.phrase.counts_given = start->counts > 0 || draft.phrase.counts_given;
  cw_draft_start(parser, &draft, start);
  cw_remark_add(parser, &draft.phrase.remark, i, end);
  cw_draft_end(parser, &draft);
}

/// Keep a place for a phrase that comes later.
static void write_later(CwParser *parser, size_t i, size_t rest, const CwReferences *all, const CwAgain *again,
                        const CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  CwLineStart now = *start;
  bool told = false;
  for (unsigned t = 0; t < again->times && !parser->full && !cw_repeats_cut(parser, &told); t++) {
    if (!cw_grow(&parser->later, &parser->later_capacity, parser->n_later, sizeof *parser->later)) {
      parser->full = true;
      return;
    }
    char *words = cw_line_text_copy(text, i, parser->end);
    parser->full = parser->full || !words;
    parser->later[parser->n_later++] = (CwLater){.phrase = parser->notebook->n_phrases,
                                                 .target = all->later - 1,
                                                 .line = parser->line,
                                                 .column = all->later_at + 1,
                                                 .other_side = again->other_side,
                                                 .counts_given = start->counts > 0,
                                                 .words = words};
    write_bare(parser, t == 0 ? rest : parser->end, parser->end, &now);
    parser->copied_bytes += sizeof(CwNotePhrase) + (words ? strlen(words) : 0);
    now.n_pins = 0;
  }
}

static void write_out(CwParser *parser, const CwReferences *all, const CwAgain *again, const CwLineStart *start)
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

/// A repeat of all that comes before a first ending, written by hand, stands before the second.
static void tell_endings(CwParser *parser, const CwReferences *all)
{
  CwEndings *here = cw_endings_here(parser);
  if (here && !here->written && all->n == 1 && all->reference[0].first == here->body_first &&
      all->reference[0].last + 1 == here->body_end) {
    here->end[here->n - 1] = parser->notebook->n_phrases;
    here->written = true;
  }
}

/// The word that makes a line a repeat. @return false when there is none.
static bool read_kind(const CwLineText *text, size_t *i, size_t end, CwRepeatKind *kind)
{
  size_t side_end = 0;
  *kind = CW_SAME_AS;
  if (cw_match_any(text, *i, end, side_alone, &side_end) && skip_commas(text, side_end, end) == end) {
    return true;
  }
  if (cw_match_any(text, *i, end, same_word, i)) {
    return true;
  }
  *kind = CW_REPEAT;
  if (cw_match_any(text, *i, end, repeat_word, i) || cw_match_words(text, *i, end, "from the top", &side_end)) {
    return true;
  }
  *kind = CW_DA_CAPO;
  return cw_match_any(text, *i, end, da_capo_word, i);
}

bool cw_read_repeat(CwParser *parser, size_t i, size_t end, const CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  const size_t begin = i;
  CwRepeatKind kind = CW_SAME_AS;
  CwReferences all = {.n = 0};
  CwAgain again = {.times = 1};
  if (!read_kind(text, &i, end, &kind)) {
    return false;
  }
  if (!cw_read_references(parser, &i, end, kind, &all)) {
    if (kind == CW_REPEAT) {
      cw_diagnose_found(parser, cw_skip_blanks(text, i, end), end, "the numbers of phrases");
    }
    return false;
  }
  i = read_again(parser, i, end, &again);
  const size_t first = parser->notebook->n_phrases;
  if (all.later > 0) {
    write_later(parser, begin, i, &all, &again, start);
    return true;
  }
  if (all.n == 0) {
    write_bare(parser, begin, end, start);
    return true;
  }
  tell_endings(parser, &all);
  write_out(parser, &all, &again, start);
  if (!parser->full && parser->notebook->n_phrases > first) {
    cw_remark_add(parser, &parser->notebook->phrase[first].remark, i, end);
  }
  return true;
}
