// SPDX-License-Identifier: GPL-3.0-or-later
/// Places of taps, and what the music says of them.
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/features.h"
#include "taps/places.h"
#include "taps/signs.h"
#include "unit/cw_test.h"

/// Two bars of three counts; the second count of the first bar is two beats long.
static const double beats[] = {0, 1, 3, 4, 5, 6};
static const float accent[] = {2, -1, -2, 2, -1, -2};
static const bool after_hold[] = {false, false, false, true, false, false};
static const CwTapPlaces places = {
    .n = 6, .bar = 3, .n_needed = 6, .beats = beats, .accent = accent, .after_hold = after_hold};

static void the_nearest_place_to_some_beats_is_found_within_and_outside(void **state)
{
  (void)state;
  for (long place = -5; place < 12; place++) {
    assert_int_equal(cw_tap_place_at(&places, cw_tap_place_beats(&places, place)), place);
  }
  assert_int_equal(cw_tap_place_at(&places, 1.9), 1);
  assert_int_equal(cw_tap_place_at(&places, 2.1), 2);
  assert_int_equal(cw_tap_place_at(&(CwTapPlaces){0}, 2.6), 3);
}

static void bars_go_on_outside_the_notes(void **state)
{
  (void)state;
  assert_near(cw_tap_place_accent(&places, -1), -2, 0);
  assert_near(cw_tap_place_accent(&places, -3), 2, 0);
  assert_near(cw_tap_place_accent(&places, 6), 2, 0);
  assert_near(cw_tap_place_accent(&places, 10), -1, 0);
  assert_near(cw_tap_place_accent(&(CwTapPlaces){0}, 3), 0, 0);
  assert_false(cw_tap_place_is_noted(&places, -1));
  assert_true(cw_tap_place_is_noted(&places, 5));
  assert_false(cw_tap_place_is_noted(&places, 6));
}

static void a_hold_lies_before_its_place(void **state)
{
  (void)state;
  assert_true(cw_tap_place_is_held(&places, 2, 3));
  assert_true(cw_tap_place_is_held(&places, -1, 7));
  assert_false(cw_tap_place_is_held(&places, 3, 7));
}

enum { FRAMES = 400 };

/// A view of four seconds with one beat, in the middle.
static CwTapView view_of_a_beat(float *beat, float *strength)
{
  for (size_t i = 0; i < FRAMES; i++) {
    beat[i] = i == 200 ? 4.0F : -3.0F;
    strength[i] = i == 200 ? 2.5F : 0.0F;
  }
  return (CwTapView){beat, strength, FRAMES};
}

static void a_beat_is_likelier_near_where_one_is_heard(void **state)
{
  (void)state;
  float beat[FRAMES];
  float strength[FRAMES];
  const CwTapView view = view_of_a_beat(beat, strength);
  CwTapSigns signs;
  assert_int_equal(cw_tap_signs_make(&view, &signs), CW_OK);
  assert_true(cw_tap_sign_of_beat(&signs, 2.0) > 1.0);
  assert_true(cw_tap_sign_of_beat(&signs, 2.05) > 1.0);
  assert_true(cw_tap_sign_of_beat(&signs, 1.0) < -1.0);
  assert_true(cw_tap_sign_of_beat(&signs, -1.0) < -1.0);
  assert_true(cw_tap_sign_of_beat(&signs, 9.0) < -1.0);
  assert_near(cw_tap_sign_of_accent(&signs, 2.03), 2.5, 0.1);
  assert_near(cw_tap_sign_of_accent(&signs, 1.0), 0, 1e-6);
  assert_true(isnan(cw_tap_sign_of_accent(&signs, -1.0)));
  cw_tap_signs_free(&signs);
}

/// The same is said however loudly all of it is said.
static void what_all_frames_have_in_common_says_nothing(void **state)
{
  (void)state;
  float beat[FRAMES];
  float strength[FRAMES];
  const CwTapView view = view_of_a_beat(beat, strength);
  CwTapSigns signs;
  CwTapSigns louder;
  assert_int_equal(cw_tap_signs_make(&view, &signs), CW_OK);
  for (size_t i = 0; i < FRAMES; i++) {
    beat[i] += 2.0F;
  }
  assert_int_equal(cw_tap_signs_make(&view, &louder), CW_OK);
  for (double time_s = 0; time_s < 4.0; time_s += 0.1) {
    assert_near(cw_tap_sign_of_beat(&signs, time_s), cw_tap_sign_of_beat(&louder, time_s), 1e-3);
  }
  cw_tap_signs_free(&signs);
  cw_tap_signs_free(&louder);
}

static void where_nothing_is_known_there_is_no_sign(void **state)
{
  (void)state;
  CwTapSigns signs;
  assert_int_equal(cw_tap_signs_make(&(CwTapView){0}, &signs), CW_OK);
  assert_near(cw_tap_sign_of_beat(&signs, 1.0), 0, 0);
  assert_true(isnan(cw_tap_sign_of_accent(&signs, 1.0)));
  cw_tap_signs_free(&signs);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  float beat[FRAMES];
  float strength[FRAMES];
  const CwTapView view = view_of_a_beat(beat, strength);
  CwTapSigns signs;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = cw_tap_signs_make(&view, &signs);
    cw_fail_after(-1);
    assert_true(status == CW_OK || !signs.beat);
  }
  assert_int_equal(status, CW_OK);
  assert_int_equal(n, 4);
  cw_tap_signs_free(&signs);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_nearest_place_to_some_beats_is_found_within_and_outside),
      cmocka_unit_test(bars_go_on_outside_the_notes),
      cmocka_unit_test(a_hold_lies_before_its_place),
      cmocka_unit_test(a_beat_is_likelier_near_where_one_is_heard),
      cmocka_unit_test(what_all_frames_have_in_common_says_nothing),
      cmocka_unit_test(where_nothing_is_known_there_is_no_sign),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
