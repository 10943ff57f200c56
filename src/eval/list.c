// SPDX-License-Identifier: GPL-3.0-or-later
#include "eval/list.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/api.h"

/// A stretch of the text.
typedef struct {
  const char *at;
  size_t n;
} Word;

/// The line being read.
typedef struct {
  const char *begin;
  const char *at;
  const char *end;
  CwListFault *fault;
} Line;

CW_PRINTF(3, 4) static bool refuse(const Line *line, const char *at, const char *format, ...)
{
  line->fault->column = (size_t)(at - line->begin) + 1;
  va_list list;
  va_start(list, format);
  vsnprintf(line->fault->message, sizeof line->fault->message, format, list);
  va_end(list);
  return false;
}

static bool is_blank(char c)
{
  return c == ' ' || c == '\t' || c == '\r';
}

static Word next_word(Line *line)
{
  while (line->at < line->end && is_blank(*line->at)) {
    line->at++;
  }
  const char *begin = line->at;
  while (line->at < line->end && !is_blank(*line->at)) {
    line->at++;
  }
  return (Word){begin, (size_t)(line->at - begin)};
}

/// How much of a word a message quotes.
static int quoted(Word word)
{
  return word.n < 40 ? (int)word.n : 40;
}

static bool is_word(Word word, const char *text)
{
  return word.n == strlen(text) && memcmp(word.at, text, word.n) == 0;
}

static bool is_digit(const Word *word, size_t i)
{
  return i < word->n && word->at[i] >= '0' && word->at[i] <= '9';
}

/// "e-03" at `i`, added to `exponent`. @return Where it ends.
static size_t read_exponent(const Word *word, size_t i, int *exponent)
{
  if (i >= word->n || (word->at[i] != 'e' && word->at[i] != 'E')) {
    return i;
  }
  i++;
  const bool negative = i < word->n && word->at[i] == '-';
  i += negative || (i < word->n && word->at[i] == '+');
  int value = 0;
  const size_t first = i;
  for (; is_digit(word, i) && value < 1000; i++) {
    value = value * 10 + (word->at[i] - '0');
  }
  *exponent += negative ? -value : value;
  return i > first ? i : first - 1; // without digits it is no exponent
}

/// A decimal number, as strtod() reads it in the C locale. Digits past the eighteenth are passed over.
static bool read_number(Word word, double *value)
{
  enum { MOST_DIGITS = 18, MOST_POWER = 27 }; // 10^27 is exact in a long double of 64 bits
  const bool negative = word.n > 0 && word.at[0] == '-';
  size_t i = negative || (word.n > 0 && word.at[0] == '+');
  uint64_t digits = 0;
  int n_digits = 0, kept = 0, exponent = 0;
  for (bool fraction = false; i < word.n; i++) {
    if (!fraction && word.at[i] == '.') {
      fraction = true;
    } else if (is_digit(&word, i)) {
      n_digits++;
      if (kept < MOST_DIGITS) {
        digits = digits * 10 + (uint64_t)(word.at[i] - '0');
        kept += digits > 0;
        exponent -= fraction;
      } else {
        exponent += !fraction;
      }
    } else {
      break;
    }
  }
  i = read_exponent(&word, i, &exponent);
  if (n_digits == 0 || i != word.n || abs(exponent) > MOST_POWER) {
    return false;
  }
  long double power = 1;
  for (int k = 0; k < abs(exponent); k++) {
    power *= 10;
  }
  const double size = (double)(exponent < 0 ? (long double)digits / power : (long double)digits * power);
  *value = negative ? -size : size;
  return true;
}

static bool read_time(Line *line, double *time_s)
{
  const Word word = next_word(line);
  if (!read_number(word, time_s)) {
    return refuse(line, word.at, "expected a time in seconds, found '%.*s'", quoted(word), word.at);
  }
  return fabs(*time_s) <= CW_EVAL_LATEST_S ||
         refuse(line, word.at, "'%.*s' is over %.0f: are these seconds?", quoted(word), word.at, CW_EVAL_LATEST_S);
}

static bool take_whole(Word word, unsigned *value)
{
  double number = 0;
  const bool good = read_number(word, &number) && number >= 1 && number <= 1e6 && number == floor(number);
  *value = good ? (unsigned)number : 0;
  return good;
}

static bool read_whole(Line *line, const char *what, unsigned *value)
{
  const Word word = next_word(line);
  return take_whole(word, value) || refuse(line, word.at, "expected %s, found '%.*s'", what, quoted(word), word.at);
}

static bool read_confidence(Line *line, double *confidence)
{
  const Word word = next_word(line);
  if (is_word(word, "-")) {
    return true;
  }
  return (read_number(word, confidence) && *confidence >= 0 && *confidence <= 1) ||
         refuse(line, word.at, "expected a confidence from 0 to 1 or '-', found '%.*s'", quoted(word), word.at);
}

static bool read_fields(Line *line, CwListKind kind, CwListItem *item)
{
  switch (kind) {
  case CW_LIST_BEATS: {
    const Word label = next_word(line);
    item->downbeat = is_word(label, "db") || is_word(label, "1");
    return true;
  }
  case CW_LIST_ONES:
    take_whole(next_word(line), &item->number);
    return true;
  case CW_LIST_COUNTS:
    return read_whole(line, "the number of a phrase", &item->number) && read_whole(line, "a count", &item->count) &&
           read_confidence(line, &item->confidence);
  }
  return false;
}

static bool read_item(Line *line, CwListKind kind, const CwList *list, CwListItem *item)
{
  const char *at = line->at;
  *item = (CwListItem){.confidence = NAN};
  if (!read_time(line, &item->time_s) || !read_fields(line, kind, item)) {
    return false;
  }
  const double before_s = list->n > 0 ? list->item[list->n - 1].time_s : -INFINITY;
  return item->time_s >= before_s ||
         refuse(line, at, "%.3f goes back behind %.3f: times must be in order", item->time_s, before_s);
}

CwStatus cw_eval_list_parse(const char *text, size_t size, CwListKind kind, CwList *list, CwListFault *fault)
{
  *list = (CwList){0};
  *fault = (CwListFault){0};
  size_t capacity = 0;
  const char *end = text + size;
  for (const char *at = text; at < end;) {
    const char *newline = memchr(at, '\n', (size_t)(end - at));
    Line line = {.begin = at, .at = at, .end = newline ? newline : end, .fault = fault};
    at = newline ? newline + 1 : end;
    fault->line++;
    Line look = line;
    const Word first = next_word(&look);
    if (first.n == 0 || first.at[0] == '#') {
      continue;
    }
    line.at = first.at;
    CwStatus status = cw_grow(&list->item, &capacity, list->n, sizeof *list->item) ? CW_OK : CW_ERR_NO_MEM;
    if (status == CW_OK && !read_item(&line, kind, list, &list->item[list->n])) {
      status = CW_ERR_SYNTAX;
    }
    if (status != CW_OK) {
      cw_eval_list_free(list);
      return status;
    }
    list->n++;
  }
  return CW_OK;
}

void cw_eval_list_free(CwList *list)
{
  if (!list) {
    return;
  }
  free(list->item);
  *list = (CwList){0};
}

unsigned cw_eval_metre(const CwList *beats)
{
  enum { LONGEST = 32 };
  unsigned bars[LONGEST + 1] = {0};
  unsigned n_bars = 0;
  unsigned length = 0; // 0 before the first downbeat
  for (size_t i = 0; i < beats->n; i++) {
    if (beats->item[i].downbeat && length > 0) {
      bars[length < LONGEST ? length : LONGEST]++;
      n_bars++;
    }
    length = beats->item[i].downbeat ? 1 : length + (length > 0);
  }
  for (unsigned metre = 1; metre < LONGEST; metre++) {
    if (bars[metre] > 0 && 10 * bars[metre] >= 9 * n_bars) {
      return metre;
    }
  }
  return 0;
}
