// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <string.h>

#include "eval/reliability.h"

enum { N_BEATS = 96 };

/// Beats half a second apart from 1 s on, a downbeat every `metre`.
static CwList beats_in(unsigned metre, CwListItem room[N_BEATS])
{
  for (unsigned i = 0; i < N_BEATS; i++) {
    room[i] = (CwListItem){.time_s = 1 + 0.5 * i, .downbeat = i % metre == 0};
  }
  return (CwList){room, N_BEATS};
}

/// Whether a phrase of `n` counts from beat `first` on, `each` beats apart and `late_s` late, is right. The first
/// `n_wrong` counts after the one are half a beat off.
static bool is_right(unsigned metre, double first, double each, unsigned n, double late_s, unsigned n_wrong)
{
  CwListItem room[N_BEATS], count[32];
  const CwList truth = beats_in(metre, room);
  for (unsigned i = 0; i < n; i++) {
    const double off = i > 0 && i <= n_wrong ? 0.25 : 0;
    count[i] = (CwListItem){
        .time_s = 1 + 0.5 * (first + each * i) + late_s + off, .number = 1, .count = i + 1, .confidence = 0.5};
  }
  const CwList counts = {count, n};
  CwReliability reliability = {0};
  cw_eval_reliability_judge(&truth, &counts, CW_JUDGE_BY_BARS, true, &reliability);
  assert_int_equal(reliability.all.n, 1);
  return reliability.all.n_right == 1;
}

static void a_phrase_begins_with_a_bar_and_keeps_to_its_beats(void **state)
{
  (void)state;
  assert_true(is_right(4, 0, 1, 8, 0, 0));
  assert_true(is_right(4, 8, 1, 8, 0.069, 0));
  assert_false(is_right(4, 8, 1, 8, 0.071, 0));
  assert_false(is_right(4, 1, 1, 8, 0, 0)); // begins with the second beat
  assert_false(is_right(4, 2, 1, 8, 0, 0));
  assert_true(is_right(4, 0, 1, 8, 0, 2)); // six of eight
  assert_false(is_right(4, 0, 1, 8, 0, 3));
  assert_true(is_right(4, 0, 1, 4, 0, 1)); // three of four
  assert_false(is_right(4, 0, 1, 4, 0, 2));
}

static void a_count_may_be_part_of_a_bar_or_whole_bars(void **state)
{
  (void)state;
  assert_true(is_right(4, 0, 2, 8, 0, 0));
  assert_true(is_right(4, 0, 4, 8, 0, 0));
  assert_true(is_right(3, 0, 3, 8, 0, 0));
  assert_true(is_right(3, 0, 6, 8, 0, 0));
  assert_true(is_right(6, 0, 3, 8, 0, 0));
  assert_false(is_right(4, 0, 3, 8, 0, 0)); // the counts wander through the bar
  assert_false(is_right(3, 0, 2, 8, 0, 0));
  assert_false(is_right(4, 0, 0.5, 8, 0, 0)); // twice as many counts as beats
  assert_false(is_right(4, 0, 1.1, 8, 0, 0));
}

static void counts_that_run_out_of_the_truth_are_wrong(void **state)
{
  (void)state;
  assert_true(is_right(4, 88, 1, 8, 0, 0));
  assert_true(is_right(4, 92, 1, 5, 0, 0)); // four of five are left
  assert_false(is_right(4, 92, 1, 8, 0, 0));
}

static void without_truth_nothing_is_right(void **state)
{
  (void)state;
  CwListItem count[] = {{.time_s = 1, .number = 1, .count = 1, .confidence = 0.5}};
  const CwList counts = {count, 1}, none = {0};
  CwReliability reliability = {0};
  cw_eval_reliability_judge(&none, &counts, CW_JUDGE_BY_BARS, true, &reliability);
  cw_eval_reliability_judge(&none, &counts, CW_JUDGE_BY_NUMBER, true, &reliability);
  assert_int_equal(reliability.all.n, 2);
  assert_int_equal(reliability.all.n_right, 0);
}

static void with_notes_a_phrase_is_held_against_that_of_its_number(void **state)
{
  (void)state;
  CwListItem one[] = {{.time_s = 1, .number = 1}, {.time_s = 5, .number = 2}, {.time_s = 9, .number = 3}};
  CwListItem count[] = {{.time_s = 1.05, .number = 1, .confidence = 0.9},
                        {.time_s = 1.5, .number = 1, .confidence = 0.9},
                        {.time_s = 9, .number = 2, .confidence = 0.2}, // the one of phrase 3
                        {.time_s = 9.5, .number = 3, .confidence = 1},
                        {.time_s = 12, .number = 4, .confidence = NAN}};
  const CwList truth = {one, 3}, counts = {count, 5};
  CwReliability reliability = {0};
  cw_eval_reliability_judge(&truth, &counts, CW_JUDGE_BY_NUMBER, true, &reliability);
  assert_int_equal(reliability.all.n, 3);
  assert_int_equal(reliability.all.n_right, 1);
  assert_int_equal(reliability.n_unknown, 1);
  for (int i = 0; i < 3; i++) {
    one[i].number = 0; // by their order then
  }
  CwReliability unpinned = {0};
  cw_eval_reliability_judge(&truth, &counts, CW_JUDGE_BY_NUMBER, false, &unpinned);
  assert_int_equal(unpinned.all.n, 2);
  assert_int_equal(unpinned.all.n_right, 1);
}

/// Worked by hand: bins of 4 at 0.25 with 1 right and of 2 at 0.9 with 1 right give (4 * 0 + 2 * 0.4) / 6.
static void calibration_error_is_the_mean_gap_of_the_bins(void **state)
{
  (void)state;
  CwReliability reliability = {0};
  assert_true(isnan(cw_eval_calibration_error(&reliability)));
  for (int i = 0; i < 4; i++) {
    cw_eval_reliability_add(&reliability, 0.25, i == 0);
  }
  cw_eval_reliability_add(&reliability, 0.9, true);
  cw_eval_reliability_add(&reliability, 0.9, false);
  assert_near(cw_eval_calibration_error(&reliability), 0.8 / 6, 1e-12);
  assert_int_equal(reliability.bin[2].n, 4);
  assert_int_equal(reliability.bin[9].n, 2);
  cw_eval_reliability_add(&reliability, 1, true);
  cw_eval_reliability_add(&reliability, 0, false);
  assert_int_equal(reliability.bin[9].n, 3);
  assert_int_equal(reliability.bin[0].n, 1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_phrase_begins_with_a_bar_and_keeps_to_its_beats),
      cmocka_unit_test(a_count_may_be_part_of_a_bar_or_whole_bars),
      cmocka_unit_test(counts_that_run_out_of_the_truth_are_wrong),
      cmocka_unit_test(without_truth_nothing_is_right),
      cmocka_unit_test(with_notes_a_phrase_is_held_against_that_of_its_number),
      cmocka_unit_test(calibration_error_is_the_mean_gap_of_the_bins),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
