// SPDX-License-Identifier: GPL-3.0-or-later
/// What the notes say of each count.
#include <string.h>

#include "lineup/pins.h"
#include "lineup/plan.h"
#include "pulse/lanes.h"
#include "unit/cw_test.h"

static CwPlan plan_of(const char *notes, double beats_per_count)
{
  CwNotebook notebook;
  CwPlan plan;
  CwMessages messages = {0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  assert_int_equal(cw_plan_make(&notebook, beats_per_count, &plan, &messages), CW_OK);
  assert_int_equal(messages.n, 0);
  assert_int_equal(cw_pins_set(&notebook, 1000.0, &plan, &messages), CW_OK);
  assert_int_equal(messages.n, 0);
  cw_notebook_free(&notebook);
  return plan;
}

/// Accents and beats to the next beat, by hand, of the first counts.
typedef struct {
  const char *notes;
  double beats_per_count;
  float accent[8];
  double to_beat[8]; ///< under 1: between two beats
} Bar;

#define ONE CW_ACCENT_FIRST
#define MID CW_ACCENT_MIDDLE
#define OFF CW_ACCENT_WEAK

static void counts_have_their_places_in_the_bar(void **state)
{
  (void)state;
  static const Bar bars[] = {
      {"metre: 4/4\nwalk\n", 0, {ONE, OFF, MID, OFF, ONE, OFF, MID, OFF}, {1, 1, 1, 1, 1, 1, 1, 1}},
      {"metre: 3/4\nwalk\n", 0, {ONE, OFF, OFF, ONE, OFF, OFF, ONE, OFF}, {1, 1, 1, 1, 1, 1, 1, 1}},
      {"metre: 3/4\nbeats per count: 3\nwalk\n", 0, {ONE, ONE, ONE, ONE, ONE, ONE, ONE, ONE}, {1, 1, 1, 1, 1, 1, 1, 1}},
      {"metre: 6/8\nbeats per count: 3\nwalk\n", 0, {ONE, MID, ONE, MID, ONE, MID, ONE, MID}, {1, 1, 1, 1, 1, 1, 1, 1}},
      {"metre: 3/4\nwalk\n", 1.5, {ONE, 0, ONE, 0, ONE, 0, ONE, 0}, {1, 0.5, 1, 0.5, 1, 0.5, 1, 0.5}},
      {"metre: 2/4\nwalk\n", 0.5, {ONE, 0, OFF, 0, ONE, 0, OFF, 0}, {1, 0.5, 1, 0.5, 1, 0.5, 1, 0.5}},
      {"walk\n", 0.5, {0}, {1, 0.5, 1, 0.5, 1, 0.5, 1, 0.5}},
      {"walk\n", 1, {0}, {1, 1, 1, 1, 1, 1, 1, 1}},
      {"metre: 4/4\n3 counts walk\nhold\n5 counts walk\n",
       0,
       {ONE, OFF, MID, ONE, OFF, MID, OFF, ONE},
       {1, 1, 1, 1, 1, 1, 1, 1}},
      {"metre: 4/4\n3 counts walk\nmetre: 3/4\n5 counts walk\n",
       0,
       {ONE, OFF, MID, ONE, OFF, OFF, ONE, OFF},
       {1, 1, 1, 1, 1, 1, 1, 1}},
  };
  for (size_t b = 0; b < sizeof bars / sizeof *bars; b++) {
    CwPlan plan = plan_of(bars[b].notes, bars[b].beats_per_count);
    assert_int_equal(plan.n, 8);
    for (size_t i = 0; i < 8; i++) {
      assert_near((double)plan.count[i].accent, (double)bars[b].accent[i], 1e-6);
      assert_near(plan.count[i].to_beat, bars[b].to_beat[i], 1e-6);
      assert_int_equal(plan.count[i].on_beat, bars[b].to_beat[i] >= 1);
    }
    cw_plan_free(&plan);
  }
}

static void a_thousand_bars_do_not_drift(void **state)
{
  (void)state;
  CwPlan plan = plan_of("metre: 3/4\nbeats per count: 3/2\nwalk x256\n", 0);
  for (size_t i = 0; i < plan.n; i++) {
    assert_near((double)plan.count[i].accent, i % 2 ? 0.0 : (double)CW_ACCENT_FIRST, 1e-6);
  }
  cw_plan_free(&plan);
}

static void sections_and_holds_are_marked_on_the_next_one(void **state)
{
  (void)state;
  CwPlan plan = plan_of("# a\nwalk\nhold 0:06\nturn\n# b\nrun\nhold\n", 0);
  assert_int_equal(plan.n, 24);
  for (size_t i = 0; i < plan.n; i++) {
    assert_int_equal(plan.count[i].phrase, i / 8);
    assert_int_equal(plan.count[i].after_hold, i == 8);
    assert_near(plan.count[i].hold_s, i == 8 ? 6.0 : 0.0, 0);
    assert_int_equal(plan.count[i].new_section, i == 16);
    assert_int_equal(cw_plan_is_cut(&plan, i), i == 7 || i == 23);
  }
  cw_plan_free(&plan);
}

static void a_pin_between_two_others_leaves_no_choice(void **state)
{
  (void)state;
  CwPlan plan = plan_of("1@10 1&@10.4 3e@12 4@12.9 turn\n", 0);
  const double wanted_s[] = {10.0, 10.8, 11.7, 12.9}; // 10 + 2 * 0.4; 12.9 - 0.9 / 0.75
  for (size_t i = 0; i < 4; i++) {
    assert_near(plan.count[i].pin_s, wanted_s[i], 1e-9);
  }
  assert_true(isnan(plan.count[4].pin_s));
  assert_int_equal(cw_pins_end(&plan), 4);
  cw_plan_free(&plan);
}

static void pins_at_no_tempo_spread_the_counts_between(void **state)
{
  (void)state;
  CwPlan plan = plan_of("@10 walk 5@10.6 turn 6@20 7 pose\n@60 run\n", 0);
  assert_near(plan.count[1].pin_s, 10.15, 1e-9);
  assert_near(plan.count[3].pin_s, 10.45, 1e-9);
  assert_near(plan.count[6].pin_s, 20.0 + 40.0 / 3, 1e-9);
  assert_true(plan.count[1].spread && plan.count[6].spread);
  assert_false(plan.count[0].spread || plan.count[4].spread || plan.count[8].spread);
  assert_true(isnan(plan.count[9].pin_s));
  cw_plan_free(&plan);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(counts_have_their_places_in_the_bar),
      cmocka_unit_test(a_thousand_bars_do_not_drift),
      cmocka_unit_test(sections_and_holds_are_marked_on_the_next_one),
      cmocka_unit_test(a_pin_between_two_others_leaves_no_choice),
      cmocka_unit_test(pins_at_no_tempo_spread_the_counts_between),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
