// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "countwright/count_line.h"

static void two_phrases_and_a_hold(CwCountLine *line)
{
  cw_count_line_init(line, 20.0);
  const double first[] = {1.0, 1.5, 2.0, 2.5};
  const double second[] = {6.0, 6.4};
  assert_int_equal(cw_count_line_add(line, first, 4, 3.0, 0.9), CW_OK);
  assert_int_equal(cw_count_line_add(line, second, 2, 6.8, -1.0), CW_OK);
}

static void times_between_counts_are_straight(void **state)
{
  (void)state;
  CwCountLine line;
  two_phrases_and_a_hold(&line);
  assert_near(cw_count_line_time(&line, 0, 1.0), 1.0, 0);
  assert_near(cw_count_line_time(&line, 0, 3.5), 2.25, 1e-12);
  assert_near(cw_count_line_time(&line, 0, 5.0), 3.0, 0);
  assert_true(isnan(cw_count_line_time(&line, 0, 5.1)));
  assert_true(isnan(cw_count_line_time(&line, 0, 0.9)));
  assert_true(isnan(cw_count_line_time(&line, 2, 1.0)));
  assert_near(cw_count_line_tempo(&line, 0), 120.0, 1e-9);
  assert_near(cw_count_line_tempo(&line, 1), 150.0, 1e-9);
  cw_count_line_free(&line);
}

static void a_time_finds_its_count(void **state)
{
  (void)state;
  CwCountLine line;
  two_phrases_and_a_hold(&line);
  size_t phrase = 9;
  double count = 0;
  assert_false(cw_count_line_find(&line, 0.99, &phrase, &count));
  assert_true(cw_count_line_find(&line, 2.25, &phrase, &count));
  assert_int_equal(phrase, 0);
  assert_near(count, 3.5, 1e-12);
  assert_false(cw_count_line_find(&line, 4.0, &phrase, &count)); // the hold
  assert_true(cw_count_line_find(&line, 6.0, &phrase, &count));
  assert_int_equal(phrase, 1);
  assert_near(count, 1.0, 1e-12);
  assert_false(cw_count_line_find(&line, 6.8, &phrase, &count));
  cw_count_line_free(&line);
}

static void what_does_not_ascend_is_refused(void **state)
{
  (void)state;
  CwCountLine line;
  two_phrases_and_a_hold(&line);
  const double early[] = {6.5, 7.0};
  const double equal[] = {7.0, 7.0};
  const double good[] = {7.0, 7.5};
  assert_int_equal(cw_count_line_add(&line, early, 2, 8.0, 1), CW_ERR_BAD_ARG);
  assert_int_equal(cw_count_line_add(&line, equal, 2, 8.0, 1), CW_ERR_BAD_ARG);
  assert_int_equal(cw_count_line_add(&line, good, 2, 7.5, 1), CW_ERR_BAD_ARG);
  assert_int_equal(cw_count_line_add(&line, good, 0, 7.5, 1), CW_ERR_BAD_ARG);
  assert_int_equal(line.n_phrases, 2);
  assert_int_equal(line.n_counts, 6);
  cw_count_line_free(&line);
}

static void a_copy_stands_alone_and_a_full_memory_is_told(void **state)
{
  (void)state;
  CwCountLine line;
  CwCountLine copy;
  two_phrases_and_a_hold(&line);
  for (long n = 0; n < 2; n++) {
    cw_fail_after(n);
    assert_int_equal(cw_count_line_copy(&line, &copy), CW_ERR_NO_MEM);
    assert_int_equal(copy.n_phrases, 0);
  }
  cw_fail_after(-1);
  assert_int_equal(cw_count_line_copy(&line, &copy), CW_OK);
  cw_count_line_free(&line);
  assert_near(cw_count_line_time(&copy, 1, 2.0), 6.4, 1e-12);
  cw_count_line_free(&copy);
}

/// Tempo as Standard MIDI Files have it: microseconds a quarter in three bytes, most significant first (Standard MIDI
/// Files 1.0, "Set Tempo", FF 51 03 tttttt: 500 000 is 120 a minute, which is also the tempo of a file that gives none;
/// bytes and values from memory). 6144 ticks at 96 a quarter last 64 quarters, so 32 s at 120.
static void tempo_agrees_with_midi_files(void **state)
{
  (void)state;
  static const struct {
    unsigned char bytes[3];
    unsigned microseconds;
    double per_minute;
  } tempo[] = {
      {{0x07, 0xA1, 0x20}, 500000, 120.0},
      {{0x04, 0x7C, 0xE5}, 294117, 204.0},
      {{0x0F, 0x42, 0x40}, 1000000, 60.0},
  };
  for (size_t i = 0; i < sizeof tempo / sizeof tempo[0]; i++) {
    const unsigned microseconds =
        (unsigned)tempo[i].bytes[0] << 16 | (unsigned)tempo[i].bytes[1] << 8 | (unsigned)tempo[i].bytes[2];
    assert_int_equal(microseconds, tempo[i].microseconds);
    const double ticks_a_quarter = 96;
    double count_s[64];
    for (unsigned k = 0; k < 64; k++) {
      count_s[k] = k * ticks_a_quarter * (microseconds / ticks_a_quarter) / 1e6;
    }
    CwCountLine line;
    cw_count_line_init(&line, 100.0);
    assert_int_equal(cw_count_line_add(&line, count_s, 64, 6144 / ticks_a_quarter * microseconds / 1e6, 1.0), CW_OK);
    assert_near(cw_count_line_tempo(&line, 0), tempo[i].per_minute, 0.001);
    cw_count_line_free(&line);
  }
  assert_near(6144 / 96.0 * 500000 / 1e6, 32.0, 1e-12);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(times_between_counts_are_straight),
      cmocka_unit_test(a_time_finds_its_count),
      cmocka_unit_test(what_does_not_ascend_is_refused),
      cmocka_unit_test(tempo_agrees_with_midi_files),
      cmocka_unit_test(a_copy_stands_alone_and_a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
