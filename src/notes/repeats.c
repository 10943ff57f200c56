// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/repeats.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
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
  for (size_t x = end; x > i; x--) {
    if (text->key[x - 1] != 'x') {
      continue;
    }
    const size_t at = x - 1;
    const char before = at > i ? text->key[at - 1] : ' ';
    if (before == '(') {
      return at - 1;
    }
    if (strchr(" ,", before) || (cw_is_digit(before) && cw_word_end(text, i, end) > at)) { // "8x4" is a line's start
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

void cw_draft_start(CwParser *parser, CwDraft *draft, const CwLineStart *start)
{
  for (size_t i = 0; i < start->n_pins; i++) {
    cw_draft_pin(parser, draft, start->pin[i].count, start->pin[i].time_s, start->pin[i].column - 1);
  }
  if (start->role < start->role_end) {
    free(draft->phrase.role);
    draft->phrase.role = cw_line_text_copy(&parser->text, start->role, start->role_end);
    parser->full = parser->full || !draft->phrase.role;
  }
}

/// True when no more may be written out; says so once a line.
static bool cut(CwParser *parser, bool *told)
{
  if (parser->notebook->n_phrases < CW_REPEAT_PHRASES && parser->copied_bytes < CW_REPEAT_BYTES) {
    return false;
  }
  if (!*told) {
    cw_diagnose(parser, parser->begin, "repeats are cut here, at %zu phrases", parser->notebook->n_phrases);
    *told = true;
  }
  return true;
}

/// Fill a draft with the steps of phrase `k`.
static void copy_steps(CwParser *parser, CwDraft *draft, size_t k)
{
  const CwNotePhrase *from = &parser->notebook->phrase[k];
  for (size_t i = 0; i < from->n_steps && !parser->full; i++) {
    const CwStep *step = &from->step[i];
    if (step->count >= draft->phrase.counts + 1.0) {
      break;
    }
    const size_t before = draft->phrase.n_steps;
    cw_draft_step(parser, draft, step->count, step->until);
    char *text = cw_copy_text(step->text, strlen(step->text));
    if (!text || draft->phrase.n_steps == before) {
      parser->full = true;
      free(text);
      return;
    }
    free(draft->phrase.step[before].text);
    draft->phrase.step[before].text = text;
    parser->copied_bytes += sizeof *step + strlen(text);
  }
}

/// Phrase `k` once more, at the notebook's end. `start` may be NULL.
static void write_again(CwParser *parser, size_t k, bool mirrored, const CwLineStart *start)
{
  const CwNotePhrase *from = &parser->notebook->phrase[k];
  CwDraft draft;
  cw_draft_begin(parser, &draft);
  draft.phrase.counts = start && start->counts ? start->counts : from->counts;
  draft.phrase.counts_given = from->counts_given || (start && start->counts);
  draft.phrase.like = k;
  draft.phrase.other_side = mirrored;
  if (from->role) {
    draft.phrase.role = cw_copy_text(from->role, strlen(from->role));
    parser->full = parser->full || !draft.phrase.role;
  }
  copy_steps(parser, &draft, k);
  if (start) {
    cw_draft_start(parser, &draft, start);
  }
  parser->copied_bytes += sizeof draft.phrase;
  cw_draft_end(parser, &draft);
}

void cw_repeat_last(CwParser *parser, const CwAgain *again)
{
  const size_t first = parser->notebook->n_phrases - 1;
  bool told = false;
  for (unsigned i = 1; i < again->times && !parser->full && !cut(parser, &told); i++) {
    write_again(parser, first, again->other_side && i % 2 == 1, NULL);
  }
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
  size_t at = skip_commas(text, *i, end);
  if (cw_match_any(text, at, end, phrase_word, &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  size_t next = at;
  unsigned times = 0;
  if (at < end && cw_is_digit(text->key[at])) {
    *i = read_references(parser, at, end, one, all);
    return true;
  }
  if (cw_match_any(text, at, end, before_word, &next) || at == end ||
      cw_match_any(text, at, end, other_side, &(size_t){0}) || match_times(text, at, end, &(size_t){0}, &times)) {
    const size_t existing = parser->notebook->n_phrases;
    keep_reference(parser, parser->begin, end, (unsigned)existing, (unsigned)existing, all);
    *i = next;
    return true;
  }
  return false;
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
    if (!match_times(text, i, end, &i, &again->times)) {
      return i;
    }
    if (again->times == 0) {
      cw_diagnose_found(parser, at, i, "a number of times from 1");
      again->times = 1;
    }
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
        if (parser->full || cut(parser, &told)) {
          return;
        }
        write_again(parser, k, again->other_side, now);
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
