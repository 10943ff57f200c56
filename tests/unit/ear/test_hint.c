// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "ear/hint.h"

static void nothing_known_is_all_zeros(void **state)
{
  (void)state;
  static const CwEarHint hint[] = {{0, 0}, {-1, 0}, {0, 1}, {0, 7}, {NAN, 255}};
  for (size_t i = 0; i < sizeof hint / sizeof hint[0]; i++) {
    float values[CW_EAR_HINTS];
    cw_hint_values(hint[i], values);
    for (size_t k = 0; k < CW_EAR_HINTS; k++) {
      assert_near((double)values[k], 0.0, 0.0);
    }
  }
}

static void a_period_on_a_centre_is_a_bell_around_it(void **state)
{
  (void)state;
  for (int k = 0; k < 16; k++) {
    float values[CW_EAR_HINTS];
    cw_hint_values((CwEarHint){(float)exp2(-2.25 + 0.35 * k), 0}, values);
    assert_near((double)values[k], 1.0, 1e-5);
    for (int i = 0; i < 16; i++) {
      assert_near((double)values[i], pow(0.375311, pow(i - k, 2)), 1e-5); // exp(-0.5 (0.35 / 0.25)^2)
    }
  }
}

static void very_short_and_very_long_periods_stay_finite(void **state)
{
  (void)state;
  static const float period_s[] = {1e-30F, 1e-3F, 100.0F, 1e30F, INFINITY};
  for (size_t i = 0; i < sizeof period_s / sizeof period_s[0]; i++) {
    float values[CW_EAR_HINTS];
    cw_hint_values((CwEarHint){period_s[i], 0}, values);
    for (size_t k = 0; k < CW_EAR_HINTS; k++) {
      assert_true(values[k] >= 0 && values[k] <= 1);
    }
  }
}

static void bars_of_two_to_six_beats_have_a_value_each(void **state)
{
  (void)state;
  for (unsigned char beats = 2; beats <= 6; beats++) {
    float values[CW_EAR_HINTS];
    cw_hint_values((CwEarHint){0, beats}, values);
    for (unsigned k = 0; k < CW_EAR_HINTS; k++) {
      assert_near((double)values[k], k == 14U + beats ? 1.0 : 0.0, 0.0);
    }
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(nothing_known_is_all_zeros),
      cmocka_unit_test(a_period_on_a_centre_is_a_bell_around_it),
      cmocka_unit_test(very_short_and_very_long_periods_stay_finite),
      cmocka_unit_test(bars_of_two_to_six_beats_have_a_value_each),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
