// SPDX-License-Identifier: GPL-3.0-or-later
/// The measuring stick itself: without it every figure below would be in doubt.
#include "accuracy/clicks.h"
#include "accuracy/measure.h"
#include "unit/cw_test.h"

static const double tolerance_s = 0.07;

/// Beats at 5.5, 6.0 ... 10.0 against `found`; wanted values were computed with mir_eval 0.7 (beat.f_measure).
static void check_f(const double *found, size_t n, double wanted)
{
  double truth[10];
  for (size_t i = 0; i < 10; i++)
    truth[i] = 5.5 + 0.5 * (double)i;
  assert_near(cw_score(truth, 10, found, n, tolerance_s).f, wanted, 1e-6);
}

static void check_shifted(double shift_s, size_t n, double wanted)
{
  double found[10];
  for (size_t i = 0; i < 10; i++)
    found[i] = 5.5 + 0.5 * (double)i + shift_s;
  check_f(found, n, wanted);
}

static void f_agrees_with_mir_eval(void **state)
{
  (void)state;
  check_shifted(0.050, 10, 1);
  check_shifted(0.069, 10, 1);
  check_shifted(0.071, 10, 0);
  check_shifted(0.250, 9, 0);
  double twice[19], half[5], without[9], with[11];
  for (size_t i = 0; i < 19; i++)
    twice[i] = 5.5 + 0.25 * (double)i;
  for (size_t i = 0; i < 5; i++)
    half[i] = 5.5 + (double)i;
  for (size_t i = 0; i < 9; i++)
    without[i] = 5.5 + 0.5 * (double)(i < 4 ? i : i + 1);
  for (size_t i = 0; i < 11; i++)
    with[i] = i == 5 ? 7.75 : 5.5 + 0.5 * (double)(i < 5 ? i : i - 1);
  check_f(twice, 19, 0.689655);
  check_f(half, 5, 0.666667);
  check_f(without, 9, 0.947368);
  check_f(with, 11, 0.952381);
}

static void errors_are_those_of_the_hits(void **state)
{
  (void)state;
  const double truth[] = {1, 2, 3}, found[] = {1.01, 1.5, 1.97, 3.2};
  CwScore score = cw_score(truth, 3, found, 4, tolerance_s);
  assert_int_equal(score.n_hit, 2);
  assert_near(score.mean_error_s, 0.02, 1e-9);
  assert_near(score.greatest_error_s, 0.03, 1e-9);
  assert_near(score.recall, 2.0 / 3, 1e-9);
  assert_near(score.precision, 0.5, 1e-9);
}

static void nothing_found_scores_nothing(void **state)
{
  (void)state;
  const double truth[] = {1, 2};
  CwScore score = cw_score(truth, 2, NULL, 0, tolerance_s);
  assert_near(score.f, 0, 0);
  assert_near(score.recall, 0, 0);
}

static void a_ramp_of_clicks_keeps_its_tempo(void **state)
{
  (void)state;
  CwClickTrack track;
  assert_true(cw_click_track_make(cw_click_spec("ramp-80-120"), 22050, &track));
  size_t last = track.n_clicks - 1;
  // half-way between two clicks, the interval is that of the tempo at that time
  double first_s = track.click_s[1] - track.click_s[0], last_s = track.click_s[last] - track.click_s[last - 1];
  assert_near(60 / first_s, 80 + 40 * (first_s / 2) / 30, 0.01);
  assert_near(60 / last_s, 80 + 40 * (track.click_s[last] - track.click_s[0] - last_s / 2) / 30, 0.01);
  cw_click_track_free(&track);
}

static void a_click_begins_at_its_time(void **state)
{
  (void)state;
  CwClickTrack track;
  assert_true(cw_click_track_make(cw_click_spec("steady-132"), 22050, &track));
  for (size_t k = 0; k < track.n_clicks; k++) {
    size_t at = (size_t)(track.click_s[k] * 22050);
    assert_true(fabsf(track.sample[at - 1]) < 0.001F);
    assert_true(fabsf(track.sample[at + 4]) > 0.1F);
  }
  cw_click_track_free(&track);
}

static void pink_noise_has_as_much_power_in_every_octave(void **state)
{
  (void)state;
  enum { N = 1 << 17 };
  static float noise[N];
  cw_noise_add(noise, N, 0.1, true);
  // differences of means over neighbouring blocks hold about an octave each
  double octave[4];
  for (int o = 0; o < 4; o++) {
    size_t width = (size_t)8 << (2 * o), n = 0;
    double power = 0;
    for (size_t i = 0; i + 2 * width <= N; i += width, n++) {
      double sum = 0;
      for (size_t k = 0; k < width; k++)
        sum += (double)noise[i + k] - (double)noise[i + width + k];
      power += sum / (double)width * (sum / (double)width);
    }
    octave[o] = power / (double)n;
  }
  for (int o = 1; o < 4; o++)
    assert_near(octave[o] / octave[0], 1, 0.35);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(f_agrees_with_mir_eval),       cmocka_unit_test(errors_are_those_of_the_hits),
      cmocka_unit_test(nothing_found_scores_nothing), cmocka_unit_test(a_ramp_of_clicks_keeps_its_tempo),
      cmocka_unit_test(a_click_begins_at_its_time),   cmocka_unit_test(pink_noise_has_as_much_power_in_every_octave),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
