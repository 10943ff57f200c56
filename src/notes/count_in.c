// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "notes/parser.h"
#include "notes/words.h"

static const char *const count_in_word[] = {"count-in", "count in", "countin", NULL};

/// "4" is four counts; "5-8", "5 6 7 8" and "5-6-7-8" are those from the first number to the last.
/// @return false when there is no number, or they do not ascend.
static bool read_counts(const CwLineText *text, size_t *i, size_t end, unsigned *counts)
{
  unsigned first = 0;
  unsigned last = 0;
  unsigned n = 0;
  for (size_t at = *i; at < end && cw_is_digit(text->key[at]); n++) {
    unsigned value = 0;
    at = cw_read_digits(text, at, end, &value);
    if (n > 0 && value <= last) {
      return false;
    }
    first = n == 0 ? value : first;
    last = value;
    *i = at;
    while (at < end && strchr(" ,-", text->key[at])) {
      at++;
    }
  }
  *counts = n > 1 ? last - first + 1 : last;
  return n > 0 && *counts > 0 && *counts <= CW_COUNTS_MOST;
}

static bool ends_here(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && strchr(" .", text->key[i])) {
    i++;
  }
  return i == end;
}

bool cw_read_count_in_line(CwParser *parser)
{
  const CwLineText *text = &parser->text;
  size_t i = parser->begin;
  const bool said = cw_match_any(text, i, parser->end, count_in_word, &i);
  if (!said && !cw_match_words(text, i, parser->end, "in", &i)) {
    return false;
  }
  while (i < parser->end && strchr(" :", text->key[i])) {
    i++;
  }
  const size_t number = i;
  unsigned counts = 0;
  const bool good = read_counts(text, &i, parser->end, &counts);
  if (!said && !(good && ends_here(text, i, parser->end))) {
    return false; // "in 4 rows"
  }
  if (!good) {
    cw_diagnose_found(parser, number, parser->end, "counts such as '4' or '5-8'");
    cw_remark_add(parser, &parser->remark, parser->begin, parser->end);
    return true;
  }
  if (!ends_here(text, i, parser->end)) {
    while (i < parser->end && strchr(" ,.:-", text->key[i])) {
      i++;
    }
    cw_remark_add(parser, &parser->remark, i, parser->end);
  }
  parser->count_in = counts;
  parser->count_in_line = parser->line;
  return true;
}
