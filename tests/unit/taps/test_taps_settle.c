// SPDX-License-Identifier: GPL-3.0-or-later
/// When tapped beats are: held against sums over all paths, and against what plainly must come out.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "taps/fit.h"
#include "unit/cw_test.h"
#include "unit/random.h"

enum { FRAMES = 3000, MOST = 64 };

static float flat[FRAMES]; ///< music that says nothing

static CwTapEvent event_at(double tap_s)
{
  return (CwTapEvent){.beats = 1, .middle_s = tap_s, .tap_s = tap_s, .pin_s = NAN, .on_beat = true};
}

static void of_three_taps_the_sums_are_those_over_all_paths(void **state)
{
  (void)state;
  static float music[FRAMES];
  uint64_t seed = 3;
  for (size_t i = 0; i < FRAMES; i++) {
    music[i] = (float)random_between(&seed, -1, 2);
  }
  const CwTapHabit habit = {0.0, 0.05, 0.1, 0.0};
  const CwTapSight sight = {music, FRAMES};
  CwTapEvent event[3] = {event_at(1.0), event_at(1.52), event_at(2.0)};
  assert_int_equal(cw_taps_settle(event, 3, &sight, &habit, 1, 0.04), CW_OK);
  double sum = 0;
  double mean = 0; // of the middle one
  for (long a = 96; a <= 104; a++) {
    for (long b = 148; b <= 156; b++) {
      for (long c = 196; c <= 204; c++) {
        const long at[3] = {a, b, c};
        double log_p = 0;
        for (size_t k = 0; k < 3; k++) {
          const double off = (event[k].tap_s - (double)at[k] / 100.0) / habit.spread_s;
          log_p += (double)music[at[k]] + log(0.97 * exp(-0.5 * off * off) / (sqrt(CW_TWO_PI) * habit.spread_s) + 0.03);
        }
        const double change = log((double)(c - b) / (double)(b - a)) / hypot(habit.change, 0.005);
        const double p = exp(log_p - 0.5 * change * change) / (double)(c - b);
        sum += p;
        mean += p * (double)b / 100.0;
      }
    }
  }
  assert_near(event[1].mean_s, mean / sum, 5e-4); // changes are told apart in bins of a hundredth
}

static void an_even_tempo_mends_jitter(void **state)
{
  (void)state;
  CwTapEvent event[MOST];
  uint64_t seed = 11;
  const CwTapSight sight = {flat, FRAMES};
  double tapped = 0;
  for (size_t i = 0; i < 40; i++) {
    event[i] = event_at(1.1 + 0.5 * (double)i + random_between(&seed, -0.08, 0.08));
  }
  CwTapHabit habit = {0.1, 0.04, 0.02, 0.01};
  assert_int_equal(cw_taps_fit(event, 40, &sight, &habit), CW_OK);
  double found = 0;
  for (size_t i = 0; i < 40; i++) {
    tapped += fabs(event[i].tap_s - 0.1 - 1.0 - 0.5 * (double)i);
    found += fabs(event[i].time_s - 1.0 - 0.5 * (double)i);
  }
  assert_true(found < 0.6 * tapped);
}

static void attacks_tell_the_delay(void **state)
{
  (void)state;
  static float music[FRAMES];
  double tap_s[MOST];
  uint64_t seed = 5;
  for (size_t i = 0; i < FRAMES; i++) {
    music[i] = -1.0F;
  }
  for (size_t i = 0; i < 40; i++) {
    const double beat_s = 1.0 + 0.5 * (double)i;
    music[lround(100 * beat_s)] = 3.0F;
    tap_s[i] = beat_s + 0.15 + random_between(&seed, -0.05, 0.05);
  }
  const CwTapSight sight = {music, FRAMES};
  double delay_s = 0;
  assert_int_equal(cw_taps_guess_delay(tap_s, 40, &sight, 0.04, &delay_s), CW_OK);
  assert_near(delay_s, 0.15, 0.02);
  CwTapEvent event[MOST];
  for (size_t i = 0; i < 40; i++) {
    event[i] = event_at(tap_s[i]);
  }
  CwTapHabit habit = {delay_s, 0.04, 0.02, 0.01};
  assert_int_equal(cw_taps_fit(event, 40, &sight, &habit), CW_OK);
  assert_near(habit.delay_s, 0.15, 0.01);
  assert_near(habit.spread_s, 0.05 / sqrt(3.0), 0.008); // of an even spread over 100 ms
  for (size_t i = 0; i < 40; i++) {
    assert_near(event[i].time_s, 1.0 + 0.5 * (double)i, 0.011);
  }
}

static void a_pin_is_passed_and_untapped_beats_lie_between(void **state)
{
  (void)state;
  CwTapEvent event[5] = {event_at(1), event_at(1.5), event_at(NAN), event_at(2.5), event_at(3)};
  event[1].pin_s = 1.53;
  const CwTapSight sight = {flat, FRAMES};
  CwTapHabit habit = {0.0, 0.03, 0.05, 0.01};
  assert_int_equal(cw_taps_fit(event, 5, &sight, &habit), CW_OK);
  assert_near(event[1].time_s, 1.53, 1e-12);
  assert_near(event[2].time_s, 2.0, 0.05);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  CwTapEvent event[4] = {event_at(1), event_at(1.5), event_at(2), event_at(2.5)};
  const CwTapSight sight = {flat, FRAMES};
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    CwTapHabit habit = {0.0, 0.03, 0.05, 0.01};
    cw_fail_after(n);
    status = cw_taps_fit(event, 4, &sight, &habit);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(of_three_taps_the_sums_are_those_over_all_paths),
      cmocka_unit_test(an_even_tempo_mends_jitter),
      cmocka_unit_test(attacks_tell_the_delay),
      cmocka_unit_test(a_pin_is_passed_and_untapped_beats_lie_between),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
