// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/spread.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "notes/words.h"

/// The finest part of a count that a step is put on.
enum { FINEST = 4 };

/// Where the step that begins at `i` ends: before a comma, or a slash between blanks.
static size_t step_end(const CwLineText *text, size_t i, size_t to)
{
  size_t depth = 0;
  for (; i < to; i++) {
    const char c = text->key[i];
    const char next = i + 1 < to ? text->key[i + 1] : ' ';
    depth += c == '(';
    depth -= c == ')' && depth > 0;
    if (depth == 0 && ((c == ',' && !cw_is_digit(next)) || (c == '/' && next == ' '))) {
      break;
    }
  }
  return i;
}

static size_t count_steps(const CwLineText *text, size_t from, size_t to)
{
  size_t n = 0;
  for (size_t i = from; i < to;) {
    const size_t end = step_end(text, i, to);
    n += cw_skip_blanks(text, i, end) < end;
    i = end + 1;
  }
  return n;
}

/// Where step `i` of `n` begins: on a whole count, or on the coarsest part of one that keeps steps apart.
static double place(size_t i, size_t n, unsigned counts)
{
  unsigned parts = 1;
  while (parts < FINEST && (double)parts * counts < (double)n) {
    parts *= 2;
  }
  return 1 + floor((double)i * counts * parts / (double)n) / parts;
}

void cw_spread_words(CwParser *parser, CwDraft *draft, size_t from, size_t to)
{
  const CwLineText *text = &parser->text;
  const size_t n = count_steps(text, from, to);
  const unsigned counts = draft->phrase.counts;
  size_t k = 0;
  for (size_t i = from; i < to && !parser->full;) {
    const size_t end = step_end(text, i, to);
    if (cw_skip_blanks(text, i, end) < end) {
      const double count = place(k, n, counts);
      const double next = ++k < n ? place(k, n, counts) : counts + 1.0;
      cw_draft_step(parser, draft, count, n <= counts ? next - 1 : count);
      char *words = parser->full ? NULL : cw_line_text_copy(text, i, end);
      parser->full = parser->full || !words;
      if (words) {
        CwStep *step = &draft->phrase.step[draft->phrase.n_steps - 1];
        free(step->text);
        step->text = words;
      }
    }
    i = end + 1;
  }
}
