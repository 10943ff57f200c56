// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "pulse/tempo_grid.h"

static CwTempoGrid grid_of(double min_bpm, double max_bpm)
{
  CwModel model = cw_model_default();
  model.min_bpm = min_bpm;
  model.max_bpm = max_bpm;
  CwTempoGrid grid;
  assert_int_equal(cw_tempo_grid_init(&grid, &model), 0);
  return grid;
}

static void the_grid_reaches_from_the_fastest_to_the_slowest_pulse(void **state)
{
  (void)state;
  const CwTempoGrid grid = grid_of(CW_BEATS_MIN_BPM, CW_BEATS_MAX_BPM);
  assert_int_equal(grid.frames[0], 25);                                     // 240 a minute: a quarter of a second
  assert_in_range(grid.frames[grid.n - 1], 197, 200);                       // 30 a minute: two seconds, less a step
  assert_in_range(grid_of(60, 60).frames[0], 100, 100);                     // one beat a second
  assert_int_equal(grid_of(60, 60).n, 1);                                   // and nothing else
  assert_int_equal(grid_of(120, 120).frames[0], 50);                        // half a second
  assert_int_equal(grid_of(CW_BEATS_MIN_BPM, 31).frames[0], 6000 / 31 + 1); // 193.5 frames, rounded
}

static void its_steps_are_a_frame_or_one_and_a_half_percent(void **state)
{
  (void)state;
  static const double range[][2] = {{30, 240}, {40, 60}, {20, 300}, {10, 50}, {600, 2900}};
  for (size_t k = 0; k < sizeof range / sizeof range[0]; k++) {
    const CwTempoGrid grid = grid_of(range[k][0], range[k][1]);
    assert_in_range(grid.n, 2, CW_MAX_INTERVALS);
    for (size_t i = 1; i < grid.n; i++) {
      assert_true(grid.frames[i] > grid.frames[i - 1]);
      const double step = (double)(grid.frames[i] - grid.frames[i - 1]);
      // 1.5 %, rounded to a whole frame
      assert_true(step <= fmax(1.0, 0.015 * (double)grid.frames[i - 1] + 0.5));
    }
  }
}

static void costs_follow_the_model(void **state)
{
  (void)state;
  CwModel model = cw_model_default();
  model.likely_bpm = 80;
  CwTempoGrid grid;
  assert_int_equal(cw_tempo_grid_init(&grid, &model), 0);
  assert_near((double)grid.step[0], 0, 0);
  double sum = 0;
  size_t likeliest = 0;
  for (size_t i = 0; i < grid.n; i++) {
    sum += (double)grid.step[i];
    // the cost of a change is proportional to the logarithm of its ratio, however many steps it takes
    assert_near(sum, model.change_cost * log((double)grid.frames[i] / (double)grid.frames[0]), 1e-4);
    assert_true(grid.prior[i] <= 0);
    likeliest = grid.prior[i] > grid.prior[likeliest] ? i : likeliest;
  }
  assert_int_equal(grid.frames[likeliest], 75); // 80 a minute
  assert_near((double)grid.prior[likeliest], 0, 1e-9);
}

static void an_empty_or_endless_range_is_refused(void **state)
{
  (void)state;
  static const double range[][2] = {{100, 99}, {0, 240}, {-30, 240}, {NAN, 240}, {30, NAN}, {30, 6000}, {2, 240}};
  for (size_t k = 0; k < sizeof range / sizeof range[0]; k++) {
    CwModel model = cw_model_default();
    model.min_bpm = range[k][0];
    model.max_bpm = range[k][1];
    CwTempoGrid grid;
    assert_int_equal(cw_tempo_grid_init(&grid, &model), -1);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_grid_reaches_from_the_fastest_to_the_slowest_pulse),
      cmocka_unit_test(its_steps_are_a_frame_or_one_and_a_half_percent),
      cmocka_unit_test(costs_follow_the_model),
      cmocka_unit_test(an_empty_or_endless_range_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
