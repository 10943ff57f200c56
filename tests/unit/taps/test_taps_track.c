// SPDX-License-Identifier: GPL-3.0-or-later
/// Which tap is which.
#include <stdlib.h>

#include "base/memory.h"
#include "taps/track.h"
#include "unit/cw_test.h"
#include "unit/random.h"

enum { MOST = 200 };

/// Taps on beats half a second apart, each up to `jitter_s` off. Beats where `kind` is 'm' are missed, where it is 'd'
/// they are tapped twice.
typedef struct {
  double time_s[2 * MOST];
  long beat[2 * MOST]; ///< CW_EXTRA_TAP for the second of two
  size_t n;
} Tapped;

static Tapped tap(size_t n_beats, double jitter_s, const char *kind)
{
  Tapped tapped = {.n = 0};
  uint64_t seed = 7;
  for (size_t i = 0; i < n_beats; i++) {
    const double time_s = 1.0 + 0.5 * (double)i + random_between(&seed, -jitter_s, jitter_s);
    if (kind[i] != 'm') {
      tapped.beat[tapped.n] = (long)i;
      tapped.time_s[tapped.n++] = time_s;
    }
    if (kind[i] == 'd') {
      tapped.beat[tapped.n] = CW_EXTRA_TAP;
      tapped.time_s[tapped.n++] = time_s + 0.12;
    }
  }
  return tapped;
}

static void check(const Tapped *tapped, const CwTapPlaces *places, long first)
{
  const CwTapSigns nothing = {0};
  CwTapHabit habit = {0};
  long place[2 * MOST];
  assert_int_equal(cw_taps_track(tapped->time_s, tapped->n, places, &nothing, &habit, place), CW_OK);
  for (size_t i = 0; i < tapped->n; i++) {
    const long wanted = tapped->beat[i] == CW_EXTRA_TAP ? CW_EXTRA_TAP : tapped->beat[i] + first;
    if (place[i] != wanted) {
      fail_msg("the tap at %.3f s is taken for %ld instead of %ld", tapped->time_s[i], place[i], wanted);
    }
  }
  assert_true(habit.spread_s > 0 && habit.change > 0 && habit.jump > 0);
}

static void missing_taps_leave_their_place_free(void **state)
{
  (void)state;
  const Tapped tapped = tap(40, 0.05, "......m......m.............mm...........");
  check(&tapped, &(CwTapPlaces){0}, 0);
}

static void the_second_of_two_taps_is_on_no_place(void **state)
{
  (void)state;
  const Tapped tapped = tap(40, 0.03, "........d............d..................");
  check(&tapped, &(CwTapPlaces){0}, 0);
}

/// Notes of `n` counts of a beat.
typedef struct {
  double beats[MOST], pin_s[MOST];
  float accent[MOST];
  bool after_hold[MOST];
  CwTapPlaces places;
} Notes;

static Notes *notes_of(size_t n)
{
  static Notes notes;
  for (size_t i = 0; i < n; i++) {
    notes.beats[i] = (double)i;
    notes.pin_s[i] = NAN;
    notes.accent[i] = 0;
    notes.after_hold[i] = false;
  }
  notes.places = (CwTapPlaces){.n = n,
                               .bar = 4,
                               .n_needed = n,
                               .beats = notes.beats,
                               .accent = notes.accent,
                               .after_hold = notes.after_hold,
                               .pin_s = notes.pin_s};
  return &notes;
}

static void taps_before_the_notes_begin_are_a_pick_up(void **state)
{
  (void)state;
  const Tapped tapped = tap(34, 0.03, "..................................");
  check(&tapped, &notes_of(32)->places, -2); // as many after the last tap as counts are left
}

static void a_pin_says_which_count_a_tap_is(void **state)
{
  (void)state;
  Notes *notes = notes_of(40);
  notes->pin_s[20] = 1.0 + 0.5 * 17.0;
  const Tapped tapped = tap(34, 0.03, "..................................");
  check(&tapped, &notes->places, 3);
}

static void places_go_on_outside_the_notes(void **state)
{
  (void)state;
  const CwTapPlaces *places = &notes_of(8)->places;
  assert_near(cw_tap_place_beats(places, -2), -2, 1e-9);
  assert_near(cw_tap_place_beats(places, 5), 5, 1e-9);
  assert_near(cw_tap_place_beats(places, 11), 11, 1e-9);
  assert_near(cw_tap_place_beats(&(CwTapPlaces){0}, 3), 3, 1e-9);
}

static void a_new_tempo_is_followed(void **state)
{
  (void)state;
  Tapped tapped = {.n = 0};
  double now_s = 1;
  for (size_t i = 0; i < 60; i++) {
    tapped.beat[i] = (long)i;
    tapped.time_s[tapped.n++] = now_s;
    now_s += i < 20 ? 0.4 : i < 40 ? 1.3 : 0.5;
  }
  check(&tapped, &(CwTapPlaces){0}, 0);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  const Tapped tapped = tap(8, 0.02, "........");
  const CwTapSigns nothing = {0};
  CwTapHabit habit = {0};
  long place[2 * MOST];
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = cw_taps_track(tapped.time_s, tapped.n, &(CwTapPlaces){0}, &nothing, &habit, place);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(missing_taps_leave_their_place_free),
      cmocka_unit_test(the_second_of_two_taps_is_on_no_place),
      cmocka_unit_test(taps_before_the_notes_begin_are_a_pick_up),
      cmocka_unit_test(a_pin_says_which_count_a_tap_is),
      cmocka_unit_test(places_go_on_outside_the_notes),
      cmocka_unit_test(a_new_tempo_is_followed),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
