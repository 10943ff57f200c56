// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/marks.h"

#include <math.h>
#include <string.h>

#include "notes/words.h"

/// The greatest number that may be a count.
enum { LARGEST_COUNT = 999 };

/// After one of these a bare number is a name.
static const char *const named_by_number[] = {"wing", "wings", "bar",  "bars", "phrase", "eight",
                                              "page", "track", "take", "act",  "scene",  "number",
                                              "no",   "no.",   "nr",   "for",  NULL};

/// A half between two counts, spelled out.
static const char *const spelled_and[] = {"and", "et", "und", NULL};

/// "5e position" is the fifth, not a quarter after 5.
static const char *const ordinal_noun[] = {"position", "pos", "arabesque", "port", NULL};

void cw_mark_walk(CwMarkWalk *walk, const CwLineText *text, size_t begin, size_t end, bool triple)
{
  *walk = (CwMarkWalk){.text = text, .i = begin, .end = end, .triple = triple};
  for (size_t i = end; i > begin && walk->last_close == 0; i--) {
    walk->last_close = text->key[i - 1] == ')' ? i - 1 : 0;
  }
}

/// What a character is at `i`, '\0' at the end.
static char key_at(const CwMarkWalk *walk, size_t i)
{
  return i < walk->end ? walk->text->key[i] : '\0';
}

static bool ends_mark(const CwMarkWalk *walk, size_t i)
{
  const char next = i < walk->end ? key_at(walk, i + 1) : '\0';
  switch (key_at(walk, i)) {
  case ',':
  case ':':
  case '.':
    return !cw_is_digit(next);
  case '-': // not "2-step"
    return next == '\0' || next == ' ';
  default:
    return strchr(" ();=|!?\"~@\001", key_at(walk, i)) != NULL; // the end and a letter without blanks, too
  }
}

static bool add_count(CwMark *mark, double count)
{
  if (mark->n == CW_MARK_COUNTS || (mark->n > 0 && count <= mark->count[mark->n - 1].until)) {
    return false;
  }
  mark->count[mark->n++] = (CwMarkCount){count, count, false};
  return true;
}

static bool is_sub(char c)
{
  return c == '&' || c == 'e' || c == 'a';
}

/// Where a sub-count lies after its count.
static double part_of_count(const CwMarkWalk *walk, size_t i, bool after_e)
{
  const char c = key_at(walk, i);
  if (c == '&') { // in a bar of three "&a" are its 2 and 3
    return walk->triple && !after_e && key_at(walk, i + 1) == 'a' ? 1.0 / 3 : 0.5;
  }
  if (walk->triple) {
    return c == 'e' ? 1.0 / 3 : 2.0 / 3;
  }
  return c == 'e' ? 0.25 : 0.75;
}

/// Sub-counts from `i` on, without blanks, after count `whole`.
static bool add_subs(const CwMarkWalk *walk, size_t *i, double whole, CwMark *mark)
{
  bool after_e = false;
  for (; is_sub(key_at(walk, *i)); ++*i) {
    if (!add_count(mark, whole + part_of_count(walk, *i, after_e))) {
      return false;
    }
    after_e = key_at(walk, *i) == 'e';
    mark->sub = true;
  }
  return true;
}

/// A number from 1 up at `i`.
static bool read_whole(const CwMarkWalk *walk, size_t *i, double *whole)
{
  unsigned value = 0;
  const size_t end = cw_read_digits(walk->text, *i, walk->end, &value);
  if (end == *i || value == 0 || value > LARGEST_COUNT) {
    return false;
  }
  *i = end;
  *whole = value;
  return true;
}

/// "5678". Two digits are a number, unless they go on from the mark before.
static bool read_digit_run(const CwMarkWalk *walk, size_t *i, double *whole, CwMark *mark)
{
  unsigned first = 0;
  unsigned last = 0;
  const size_t end = cw_read_digit_run(walk->text, *i, walk->end, &first, &last);
  if (end == *i || (end < *i + 3 && (walk->last == 0 || first != floor(walk->last) + 1))) {
    return false;
  }
  *i = end;
  *whole = last;
  mark->count[mark->n++] = (CwMarkCount){first, last, true};
  return true;
}

/// The second half of a range at `i`: "-4", " - 4" or " to 4". Across blanks it must ascend.
static bool read_range_end(const CwMarkWalk *walk, size_t *i, double *whole)
{
  const size_t dash = cw_skip_blanks(walk->text, *i, walk->end);
  size_t at = dash + 1;
  if (key_at(walk, dash) != '-' && !(dash > *i && cw_match_words(walk->text, dash, walk->end, "to", &at))) {
    return false;
  }
  const size_t number = cw_skip_blanks(walk->text, at, walk->end);
  const bool tight = dash == *i && number == at;
  size_t after = number;
  double value = 0;
  if (!read_whole(walk, &after, &value) || (!tight && (value <= *whole || !ends_mark(walk, after)))) {
    return false;
  }
  *i = after;
  *whole = value;
  return true;
}

/// A number joined to the count before it: "5,6", "7+8", or "4" after "3&".
static bool read_joined(const CwMarkWalk *walk, size_t *i, double *whole)
{
  const char c = key_at(walk, *i);
  size_t at = c == ',' || c == '+' ? *i + 1 : *i;
  double value = 0;
  if (!read_whole(walk, &at, &value) || (c == ',' && value != *whole + 1)) { // "1,5" is one and a half
    return false;
  }
  *i = at;
  *whole = value;
  return true;
}

/// "8&1": after the last count of a phrase comes the one of the next.
static void wrap(double *whole, CwMark *mark)
{
  const double last = mark->n > 0 ? mark->count[mark->n - 1].until : 0;
  if (*whole == 1 && mark->sub && last >= 2 && !mark->wraps) {
    mark->wraps = true;
    *whole = floor(last) + 1;
  }
}

/// What follows a mark's first number.
static bool read_rest(const CwMarkWalk *walk, size_t *i, double whole, CwMark *mark)
{
  for (;;) {
    if (!add_subs(walk, i, whole, mark)) {
      return false;
    }
    if (read_range_end(walk, i, &whole)) {
      mark->count[mark->n - 1].until = whole;
      mark->count[mark->n - 1].range = true;
      continue;
    }
    if (!read_joined(walk, i, &whole)) {
      return ends_mark(walk, *i);
    }
    wrap(&whole, mark);
    if (!add_count(mark, whole)) {
      return false;
    }
  }
}

/// The number that ends a run of sub-counts with blanks between, as in "& a 5"; 0 when it does not end in one.
static double number_after_subs(const CwMarkWalk *walk, size_t i)
{
  for (int subs = 0; subs < 3; subs++) {
    i = cw_skip_blanks(walk->text, i, walk->end);
    if (!is_sub(key_at(walk, i)) || key_at(walk, i + 1) != ' ') {
      break;
    }
    i++;
  }
  double whole = 0;
  return read_whole(walk, &i, &whole) && (ends_mark(walk, i) || is_sub(key_at(walk, i)) || key_at(walk, i) == '-')
             ? whole
             : 0;
}

/// "&4", "&a5", or "&" on its own.
static bool read_from_and(const CwMarkWalk *walk, size_t *i, CwMark *mark)
{
  size_t after = *i;
  while (is_sub(key_at(walk, after)) && after < *i + 3) {
    after++;
  }
  double whole = 0;
  size_t end = after;
  if (read_whole(walk, &end, &whole)) {
    if (!add_subs(walk, i, whole - 1, mark) || !add_count(mark, whole)) {
      return false;
    }
    *i = end;
    return read_rest(walk, i, whole, mark);
  }
  whole = walk->open ? floor(walk->last) : number_after_subs(walk, after) - 1;
  return whole >= 0 && ends_mark(walk, after) && add_subs(walk, i, whole, mark) && mark->count[0].count > walk->last;
}

/// "e", "a" or "and" on its own: only beside a mark and before "&" or the next count, as these are words, too.
static bool read_from_letter(const CwMarkWalk *walk, size_t *i, CwMark *mark)
{
  const char next_key = key_at(walk, *i + 1);
  if (walk->last > 0 && is_sub(key_at(walk, *i)) && (cw_is_digit(next_key) || is_sub(next_key))) { // "a5", "e&a5"
    return read_from_and(walk, i, mark);
  }
  size_t after = *i + 1;
  const bool spelled = cw_match_any(walk->text, *i, walk->end, spelled_and, &after);
  if (!walk->open || walk->after_range || (!spelled && !is_sub(key_at(walk, *i))) || key_at(walk, after) != ' ') {
    return false;
  }
  size_t next = cw_skip_blanks(walk->text, after, walk->end);
  double whole = 0;
  const bool before_count = read_whole(walk, &next, &whole) && whole == floor(walk->last) + 1;
  if (!before_count && (spelled || key_at(walk, next) != '&')) {
    return false;
  }
  const double part = spelled ? 0.5 : part_of_count(walk, *i, false);
  *i = after;
  mark->sub = true;
  return add_count(mark, floor(walk->last) + part) && mark->count[0].count > walk->last;
}

/// True when one of `list` ends right before the blanks before `i`.
static bool word_before(const CwLineText *text, size_t i, const char *const *list)
{
  while (i > 0 && text->key[i - 1] == ' ') {
    i--;
  }
  for (; *list; list++) {
    const size_t length = strlen(*list);
    if (i >= length && memcmp(text->key + i - length, *list, length) == 0 &&
        (i == length || !cw_is_word_character(text->key[i - length - 1]))) {
      return true;
    }
  }
  return false;
}

/// A number that tells how many, or which, and not when.
static bool is_no_count(const CwMarkWalk *walk, const CwMark *mark)
{
  const size_t next = cw_skip_blanks(walk->text, mark->end, walk->end);
  size_t after = 0;
  if (mark->sub) { // "5e" alone
    return mark->n == 2 && key_at(walk, mark->end - 1) == 'e' &&
           cw_match_any(walk->text, next, walk->end, ordinal_noun, &after);
  }
  if (mark->n > 1 || mark->count[0].range) {
    return false;
  }
  if (next == walk->end && !walk->open && (walk->last == 0 || mark->count[0].count != floor(walk->last) + 1)) {
    return true; // "port de bras 3"
  }
  return cw_match_any(walk->text, next, walk->end, cw_how_many, &after) ||
         (mark->begin > 0 && walk->text->key[mark->begin - 1] == ' ' &&
          word_before(walk->text, mark->begin, named_by_number));
}

static void read_pin(const CwMarkWalk *walk, CwMark *mark)
{
  const size_t at = cw_skip_blanks(walk->text, mark->end, walk->end);
  if (key_at(walk, at) != '@' || mark->count[mark->n - 1].range) {
    return;
  }
  const size_t time = cw_skip_blanks(walk->text, at + 1, walk->end);
  mark->pinned = cw_read_time(walk->text, time, walk->end, &mark->end, &mark->time_s);
}

bool cw_mark_at(CwMarkWalk *walk, size_t i, CwMark *mark)
{
  *mark = (CwMark){.begin = i, .follows = walk->open};
  bool good = false;
  double whole = 0;
  if (read_digit_run(walk, &i, &whole, mark)) {
    good = read_rest(walk, &i, whole, mark);
  } else if (cw_is_digit(key_at(walk, i))) {
    good = read_whole(walk, &i, &whole) && add_count(mark, whole) && read_rest(walk, &i, whole, mark);
  } else if (key_at(walk, i) == '&') {
    good = read_from_and(walk, &i, mark);
  } else {
    good = read_from_letter(walk, &i, mark);
  }
  mark->end = i;
  if (!good || is_no_count(walk, mark)) {
    return false;
  }
  read_pin(walk, mark);
  return true;
}

/// What may stand between marks that share their words: a comma, a bar, and right after a mark one of ": . ) = -".
static bool separates(const CwMarkWalk *walk, size_t i)
{
  const char c = key_at(walk, i);
  if (c == ' ' || c == ',' || c == '|') {
    return true;
  }
  return walk->open && strchr(":.)=-", c) && key_at(walk, i + 1) != c;
}

/// "1,5 turns".
static bool is_decimal_comma(const CwMarkWalk *walk, size_t i)
{
  return key_at(walk, i) == ',' && cw_is_digit(key_at(walk, i - 1)) && cw_is_digit(key_at(walk, i + 1));
}

/// The end of a word, or of an aside in round brackets, at `i`.
static size_t word_or_aside_end(const CwMarkWalk *walk, size_t i)
{
  if (key_at(walk, i) == '(' && i < walk->last_close) {
    const char *close = memchr(walk->text->key + i, ')', walk->end - i);
    return (size_t)(close - walk->text->key) + 1;
  }
  do {
    i++;
  } while (i < walk->end && (!strchr(" ,|(", key_at(walk, i)) || is_decimal_comma(walk, i)) &&
           !(cw_is_digit(key_at(walk, i)) && key_at(walk, i - 1) == CW_UNSPACED_LETTER));
  return i;
}

bool cw_mark_next(CwMarkWalk *walk, CwMark *mark)
{
  while (walk->i < walk->end) {
    if (separates(walk, walk->i)) {
      walk->i++;
    } else if (cw_mark_at(walk, walk->i, mark)) {
      return true;
    } else {
      walk->i = word_or_aside_end(walk, walk->i);
      walk->open = false;
    }
  }
  return false;
}

void cw_mark_accept(CwMarkWalk *walk, const CwMark *mark)
{
  walk->i = mark->end;
  walk->open = true;
  walk->start = mark->count[mark->n - 1].count;
  walk->last = mark->count[mark->n - 1].until;
  walk->after_range = mark->count[mark->n - 1].range;
}

void cw_mark_reject(CwMarkWalk *walk, const CwMark *mark)
{
  walk->i = mark->end;
  walk->open = false;
}
