// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/pace.h"

#include "../cw_test.h"

enum { TAPS = 40, ROWS = 30 * CW_HEARD_RATE_HZ };

/// A tap every half a second, then, from 10 s on, every second.
static size_t two_paces(double *tap_s)
{
  size_t n = 0;
  for (double at = 0.25; n < TAPS && at < 30.0; at += at < 10.0 ? 0.5 : 1.0) {
    tap_s[n++] = at;
  }
  return n;
}

static void a_hint_is_the_pace_of_the_taps_near_by(void **state)
{
  (void)state;
  double tap_s[TAPS];
  static CwEarHint hint[ROWS];
  const size_t n = two_paces(tap_s);
  cw_taps_hint(tap_s, n, 1.0, 3, hint, ROWS);
  for (size_t row = 0; row < ROWS; row++) {
    const double at = (double)row / CW_HEARD_RATE_HZ;
    assert_int_equal(hint[row].beats, 3);
    if (at < 8.0 || at > 14.5) {
      assert_near(hint[row].period_s, at < 10.0 ? 0.5 : 1.0, 1e-6);
    }
  }
}

static void taps_on_counts_of_two_beats_tell_of_beats(void **state)
{
  (void)state;
  double tap_s[TAPS];
  CwEarHint hint[10];
  const size_t n = two_paces(tap_s);
  cw_taps_hint(tap_s, n, 2.0, 0, hint, 10);
  assert_near(hint[0].period_s, 0.25, 1e-6);
  assert_int_equal(hint[0].beats, 0);
}

static void a_missed_tap_and_a_double_one_change_no_hint(void **state)
{
  (void)state;
  const double tap_s[] = {0.0, 0.5, 1.0, 2.0, 2.5, 2.55, 3.0, 3.5, 4.0};
  CwEarHint hint[4 * CW_HEARD_RATE_HZ];
  cw_taps_hint(tap_s, 9, 1.0, 4, hint, 4 * CW_HEARD_RATE_HZ);
  for (size_t row = 0; row < 4 * CW_HEARD_RATE_HZ; row++) {
    assert_near(hint[row].period_s, 0.5, 1e-6);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_hint_is_the_pace_of_the_taps_near_by),
      cmocka_unit_test(taps_on_counts_of_two_beats_tell_of_beats),
      cmocka_unit_test(a_missed_tap_and_a_double_one_change_no_hint),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
