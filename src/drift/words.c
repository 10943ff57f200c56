// SPDX-License-Identifier: GPL-3.0-or-later
#include "drift/words.h"

#include <stdio.h>

#include "countwright/time_text.h"

/// Names and headings are cut to this many bytes in a sentence.
enum { LONGEST_NAME = 40 };

static bool is_given(const char *name)
{
  return name && *name;
}

const char *cw_drift_first_name(const CwDriftTable *table)
{
  return is_given(table->name) ? table->name : "the first recording";
}

const char *cw_drift_other_name(const CwDriftOther *other)
{
  return is_given(other->name) ? other->name : "the other recording";
}

void cw_drift_phrases(const CwDrift *drift, size_t first, size_t last, char out[CW_WORDS])
{
  if (first == last) {
    snprintf(out, CW_WORDS, "phrase %u", drift->row[first].number);
  } else {
    snprintf(out, CW_WORDS, "phrases %u-%u", drift->row[first].number, drift->row[last].number);
  }
}

void cw_drift_span(double from_s, double to_s, char out[CW_WORDS])
{
  char from[24];
  char to[24];
  cw_format_time(from_s, from);
  cw_format_time(to_s, to);
  snprintf(out, CW_WORDS, "%s to %s", from, to);
}

static const char *number_word(size_t n, char out[24])
{
  static const char *const word[] = {"no",  "one",   "two",   "three", "four", "five",
                                     "six", "seven", "eight", "nine",  "ten"};
  if (n < sizeof word / sizeof word[0]) {
    return word[n];
  }
  snprintf(out, 24, "%zu", n);
  return out;
}

/// "eight" where every row has eight counts, else "phrase".
static const char *kind_of(const CwDrift *drift, size_t first, size_t last)
{
  for (size_t i = first; i <= last; i++) {
    if (drift->row[i].counts != 8) {
      return "phrase";
    }
  }
  return "eight";
}

/// The rows of the section that row `i` is in.
static void section_about(const CwDriftTable *table, size_t i, size_t *first, size_t *last)
{
  const char *const *section = table->section;
  const size_t n = table->other[0].drift.n;
  *first = i;
  *last = i;
  while (*first > 0 && section[*first - 1] == section[i]) {
    --*first;
  }
  while (*last + 1 < n && section[*last + 1] == section[i]) {
    ++*last;
  }
}

/// As many bytes of a heading as a sentence has room for, no character cut.
static int shown(const char *heading)
{
  int n = 0;
  while (heading[n] && n < LONGEST_NAME) {
    n++;
  }
  while (heading[n] && n > 0 && ((unsigned char)heading[n] & 0xC0) == 0x80) {
    n--;
  }
  return n;
}

/// The place of a row in its section, from 0; NULL where it is too far on for a word.
static const char *ordinal(size_t place)
{
  static const char *const word[] = {"first",   "second", "third", "fourth", "fifth",    "sixth",
                                     "seventh", "eighth", "ninth", "tenth",  "eleventh", "twelfth"};
  return place < sizeof word / sizeof word[0] ? word[place] : NULL;
}

/// Rows that neither begin nor end their section: "the third eight", "the third and fourth eights".
static void middle_of_section(size_t place, size_t n, const char *kind, char out[CW_WORDS])
{
  const char *from = ordinal(place);
  const char *to = ordinal(place + n - 1);
  if (!to && n == 1) {
    snprintf(out, CW_WORDS, "%s %zu", kind, place + 1);
  } else if (!to) {
    snprintf(out, CW_WORDS, "%ss %zu to %zu", kind, place + 1, place + n);
  } else if (n == 1) {
    snprintf(out, CW_WORDS, "the %s %s", from, kind);
  } else {
    snprintf(out, CW_WORDS, "the %s %s %s %ss", from, n == 2 ? "and" : "to", to, kind);
  }
}

/// "the last two eights of 'B'"; nothing where rows share no section. @return Whether that is singular.
static bool place_in_section(const CwDriftTable *table, size_t first, size_t last, char out[CW_WORDS])
{
  const char *heading = table->section ? table->section[first] : NULL;
  size_t begin = 0;
  size_t end = 0;
  out[0] = '\0';
  if (heading) {
    section_about(table, first, &begin, &end);
  }
  if (!heading || last > end) {
    return first == last;
  }
  char room[24];
  const char *kind = kind_of(&table->other[0].drift, first, last);
  const size_t n = last - first + 1;
  const size_t place = first - begin;
  const int length = shown(heading);
  if (first == begin && last == end) {
    snprintf(out, CW_WORDS, "all of '%.*s'", length, heading);
    return true;
  }
  char rows[CW_WORDS];
  if (last != end && (n == 1 || first != begin)) {
    middle_of_section(place, n, kind, rows);
  } else if (n == 1) {
    snprintf(rows, sizeof rows, "the last %s", kind);
  } else {
    snprintf(rows, sizeof rows, "the %s %s %ss", first == begin ? "first" : "last", number_word(n, room), kind);
  }
  snprintf(out, CW_WORDS, "%.60s of '%.*s'", rows, length, heading);
  return n == 1;
}

bool cw_drift_place(const CwDriftTable *table, size_t first, size_t last, char out[CW_WORDS])
{
  const CwDrift *drift = &table->other[0].drift;
  char place[CW_WORDS];
  char phrases[CW_WORDS];
  char span[CW_WORDS];
  const bool one = place_in_section(table, first, last, place);
  cw_drift_phrases(drift, first, last, phrases);
  cw_drift_span(drift->row[first].a_start_s, drift->row[last].a_end_s, span);
  if (place[0]) {
    snprintf(out, CW_WORDS, "%.90s (%.40s, %.50s)", place, phrases, span);
  } else {
    snprintf(out, CW_WORDS, "%.60s (%.60s)", phrases, span);
  }
  return one;
}
