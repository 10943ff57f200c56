// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/words.h"

#include <math.h>
#include <string.h>

#include "countwright/time_text.h"

const char *const cw_how_many[] = {
    "times",   "time", "x",       "counts", "count",   "cts",   "ct",    "beats",  "bars",    "people", "dancers",
    "girls",   "boys", "women",   "men",    "couples", "pairs", "lines", "rows",   "seconds", "sec",    "s",
    "minutes", "min",  "degrees", "deg",    "metres",  "fois",  "temps", "filles", "hommes",  "femmes", NULL};

bool cw_is_digit(char c)
{
  return c >= '0' && c <= '9';
}

bool cw_is_unspaced(char c)
{
  return c == CW_UNSPACED_LETTER || c == CW_COUNTING_LETTER || c == CW_COUNTS_LETTER;
}

bool cw_is_word_character(char c)
{
  return cw_is_digit(c) || (c >= 'a' && c <= 'z') || c == CW_OTHER_CHARACTER || cw_is_unspaced(c);
}

bool cw_match_words(const CwLineText *text, size_t i, size_t end, const char *words, size_t *next)
{
  for (const char *w = words; *w; w++) {
    if (i >= end || text->key[i] != *w) {
      return false;
    }
    i = *w == ' ' ? cw_skip_blanks(text, i, end) : i + 1;
  }
  if (i < end && i > 0 && cw_is_word_character(text->key[i]) && !cw_is_unspaced(text->key[i - 1])) {
    return false;
  }
  *next = i;
  return true;
}

bool cw_match_any(const CwLineText *text, size_t i, size_t end, const char *const *list, size_t *next)
{
  for (; *list; list++) {
    if (cw_match_words(text, i, end, *list, next)) {
      return true;
    }
  }
  return false;
}

size_t cw_read_digits(const CwLineText *text, size_t i, size_t end, unsigned *value)
{
  const size_t from = i;
  *value = 0;
  for (; i < end && cw_is_digit(text->key[i]); i++) {
    *value = i - from < 9 ? *value * 10 + (unsigned)(text->key[i] - '0') : 1000000000u;
  }
  return i;
}

size_t cw_read_digit_run(const CwLineText *text, size_t i, size_t end, unsigned *first, unsigned *last)
{
  size_t at = i;
  while (at < end && cw_is_digit(text->key[at]) && text->key[at] > '0' &&
         (at == i || text->key[at] == text->key[at - 1] + 1)) {
    at++;
  }
  if (at - i < 2 || (at < end && cw_is_word_character(text->key[at]))) {
    return i;
  }
  *first = (unsigned)(text->key[i] - '0');
  *last = (unsigned)(text->key[at - 1] - '0');
  return at;
}

bool cw_read_time(const CwLineText *text, size_t i, size_t end, size_t *next, double *time_s)
{
  const char *stop = NULL;
  const double seconds = i < end ? cw_parse_time(text->key + i, &stop) : (double)NAN;
  if (isnan(seconds)) {
    return false;
  }
  const size_t after = (size_t)(stop - text->key);
  const char c = after < end ? text->key[after] : ' ';
  if (after > end || (cw_is_word_character(c) && !cw_is_unspaced(c)) || c == ':') {
    return false;
  }
  *next = after;
  *time_s = seconds;
  return true;
}

size_t cw_skip_signs(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && strchr(" ,.:-", text->key[i])) {
    i++;
  }
  return i;
}

size_t cw_word_end(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && text->key[i] != ' ') {
    i++;
  }
  return i;
}
