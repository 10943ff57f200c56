// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "countwright/phrases.h"

/// A line of phrases of eight, each at its own tempo in counts a minute.
static CwCountLine line_of(const double *per_min, size_t n, double beats_per_count, unsigned metre)
{
  CwCountLine line;
  double at_s = 1.0;
  cw_count_line_init(&line, 1000);
  line.beats_per_count = beats_per_count;
  line.metre = metre;
  for (size_t p = 0; p < n; p++) {
    double count_s[8];
    for (size_t k = 0; k < 8; k++) {
      count_s[k] = at_s;
      at_s += 60.0 / per_min[p];
    }
    assert_int_equal(cw_count_line_add(&line, count_s, 8, at_s, 0.5), CW_OK);
  }
  return line;
}

static void the_tempo_is_the_middle_one(void **state)
{
  (void)state;
  static const double tempo[] = {60, 200, 62, 61, 30};
  CwCountLine line = line_of(tempo, 5, 1, 4);
  double per_min = 0;
  assert_int_equal(cw_counts_per_min(&line, &per_min), CW_OK);
  assert_near(per_min, 61, 1e-6);
  line.n_phrases = 4; // 60, 61, 62, 200
  assert_int_equal(cw_counts_per_min(&line, &per_min), CW_OK);
  assert_near(per_min, 61.5, 1e-6);
  line.n_phrases = 0;
  assert_int_equal(cw_counts_per_min(&line, &per_min), CW_OK);
  assert_true(isnan(per_min));
  cw_count_line_free(&line);
}

static void the_level_is_said_and_how_to_change_it(void **state)
{
  (void)state;
  static const struct {
    double tempo, beats;
    unsigned metre;
    const char *says;
  } row[] = {
      {62, 3, 3,
       "counted in bars of three: 62 counts a minute; beats would be 186 a minute; '--beats-per-count 1' counts beats"},
      {96, 1, 4, "counted in beats: 96 counts a minute; '--beats-per-count 2' counts half as fast"},
      {100, 1, 3, "counted in beats: 100 counts a minute; '--beats-per-count 3' counts three beats as one"},
      {80, 0.5, 4,
       "counted in half beats: 80 counts a minute; beats would be 40 a minute; '--beats-per-count 1' counts beats"},
      {95, 2, 4,
       "counted in groups of two: 95 counts a minute; beats would be 190 a minute; '--beats-per-count 1' counts beats"},
      {60, 3, 6,
       "counted in groups of three: 60 counts a minute; beats would be 180 a minute; '--beats-per-count 1' counts "
       "beats"},
      {40, 1.5, 3,
       "counted in units of 1.50 beats: 40 counts a minute; beats would be 60 a minute; '--beats-per-count 1' counts "
       "beats"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    CwCountLine line = line_of(&row[i].tempo, 1, row[i].beats, row[i].metre);
    CwMessages messages = {0};
    assert_int_equal(cw_level_explain(&line, "--beats-per-count", &messages), CW_OK);
    assert_int_equal(messages.n, 1);
    assert_string_equal(messages.text[0], row[i].says);
    cw_messages_free(&messages);
    cw_count_line_free(&line);
  }
}

static void nothing_is_said_of_no_counts(void **state)
{
  (void)state;
  CwCountLine line;
  CwMessages messages = {0};
  cw_count_line_init(&line, 3);
  assert_int_equal(cw_level_explain(&line, "--beats-per-count", &messages), CW_OK);
  assert_int_equal(messages.n, 0);
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  static const double tempo = 90;
  CwCountLine line = line_of(&tempo, 1, 1, 4);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 20; n++) {
    CwMessages messages = {0};
    cw_fail_after(n);
    status = cw_level_explain(&line, "--beats-per-count", &messages);
    cw_fail_after(-1);
    assert_int_equal(messages.n, status == CW_OK ? 1 : 0);
    cw_messages_free(&messages);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 1);
  cw_count_line_free(&line);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_tempo_is_the_middle_one),
      cmocka_unit_test(the_level_is_said_and_how_to_change_it),
      cmocka_unit_test(nothing_is_said_of_no_counts),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
