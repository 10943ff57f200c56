// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "print/clean.h"
#include "print/drift_words.h"
#include "print/words.h"

static void counts_are_written_as_dancers_say_them(void **state)
{
  (void)state;
  static const struct {
    double count;
    const char *label;
  } row[] = {
      {1, "1"},       {32, "32"},          {3.5, "3&"},         {3.25, "3e"},
      {3.75, "3a"},   {3 + 1.0 / 3, "3e"}, {3 + 2.0 / 3, "3a"}, {3.33333, "3e"},
      {0.5, "&"},     {0.75, "a"},         {3.4, "3.4"},        {2.9999999, "3"},
      {NAN, "?"},     {-1.5, "-1.5"},      {INFINITY, "?"},     {3.1234, "3.12"},
      {1e300, "nan"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    char label[CW_WORD_ROOM];
    cw_count_label(row[i].count, label);
    assert_string_equal(label, row[i].label);
  }
}

static void several_counts_are_a_span(void **state)
{
  (void)state;
  char label[CW_WORD_ROOM];
  cw_span_label(1, 4, label);
  assert_string_equal(label, "1-4");
  cw_span_label(3.5, 5, label);
  assert_string_equal(label, "3&-5");
  cw_span_label(3, 3, label);
  assert_string_equal(label, "3");
  cw_span_label(3, NAN, label);
  assert_string_equal(label, "3");
}

// The thresholds: measured.md of the design has them from Friberg and Sundberg 1995 and the multiple-look studies.
static void differences_have_words(void **state)
{
  (void)state;
  assert_string_equal(cw_difference_words(CW_ENGLISH, 2.49), "same");
  assert_string_equal(cw_difference_words(CW_ENGLISH, -2.49), "same");
  assert_string_equal(cw_difference_words(CW_ENGLISH, 2.5), "a little faster");
  assert_string_equal(cw_difference_words(CW_ENGLISH, -5.0), "a little slower");
  assert_string_equal(cw_difference_words(CW_ENGLISH, 5.01), "faster");
  assert_string_equal(cw_difference_words(CW_ENGLISH, -50), "slower");
  assert_string_equal(cw_difference_words(CW_ENGLISH, NAN), "-");
  char label[CW_WORD_ROOM];
  cw_ahead_label(CW_ENGLISH, 0.04, label);
  assert_string_equal(label, "level");
  cw_ahead_label(CW_ENGLISH, -9.06, label);
  assert_string_equal(label, "9.1 s behind");
  cw_ahead_label(CW_ENGLISH, 0.05, label);
  assert_string_equal(label, "0.1 s ahead");
  cw_percent_label(0.04, label);
  assert_string_equal(label, "0.0 %");
  cw_percent_label(3.66, label);
  assert_string_equal(label, "+3.7 %");
}

static void assert_clean(const char *text, const char *wanted)
{
  char *clean = cw_clean_line(text);
  assert_string_equal(clean, wanted);
  free(clean);
}

static void notes_cannot_command_a_terminal(void **state)
{
  (void)state;
  assert_clean("a\x1B[31mb", "a\uFFFD[31mb");
  assert_clean("a\tb\nc", "a b c");
  assert_clean("\xC2\x9B", "\uFFFD"); // CSI in one character
  assert_clean("\x7F", "\uFFFD");
  assert_clean("a\xE2\x80\xAE"
               "b",
               "ab");                                               // right-to-left override
  assert_clean("\xC3", "\uFFFD");                                   // cut off
  assert_clean("\xED\xA0\x80", "\uFFFD\uFFFD\uFFFD");               // a surrogate is no character
  assert_clean("\xC0\xAF", "\uFFFD\uFFFD");                         // overlong
  assert_clean("e\xCC\x81 \xE2\x80\x8D", "e\xCC\x81 \xE2\x80\x8D"); // combining marks and joiners stay
  assert_clean(NULL, "");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(counts_are_written_as_dancers_say_them),
      cmocka_unit_test(several_counts_are_a_span),
      cmocka_unit_test(differences_have_words),
      cmocka_unit_test(notes_cannot_command_a_terminal),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
