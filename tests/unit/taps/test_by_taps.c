// SPDX-License-Identifier: GPL-3.0-or-later
/// Beats and counts of music that someone tapped along with.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/taps.h"
#include "lineup/tapped.h"
#include "unit/cw_test.h"
#include "unit/lineup/music.h"
#include "unit/random.h"

static Music music;
static CwFeatures features; ///< eight eights of 0.5 s

static int make_music(void **state)
{
  (void)state;
  music = (Music){.now_s = 1.0};
  write_beats(&music, 64, 0.5, 4);
  features = play(&music, 34.0);
  return 0;
}

static int free_music(void **state)
{
  (void)state;
  cw_features_free(&features);
  return 0;
}

/// Taps on every `step`th beat from `first` on, late by `delay_s` and up to `jitter_s` off; one in twenty is missing
/// and one in twenty double. Release with cw_taps_free().
static CwTaps tap(size_t first, size_t step, double delay_s, double jitter_s)
{
  CwTaps taps = {.time_s = calloc(2 * MOST_BEATS, sizeof(double))};
  uint64_t seed = 42;
  for (size_t i = first; i < music.n; i += step) {
    const double time_s = music.beat_s[i] + delay_s + random_between(&seed, -jitter_s, jitter_s);
    if (step > 1 || i % 20 != 13) {
      taps.time_s[taps.n++] = time_s;
    }
    if (step == 1 && i % 20 == 5) {
      taps.time_s[taps.n++] = time_s + 0.1;
    }
  }
  return taps;
}

static void beats_are_better_than_the_taps(void **state)
{
  (void)state;
  static const double delay_s[] = {-0.05, 0.06, 0.2};
  for (size_t k = 0; k < 3; k++) {
    CwTaps taps = tap(0, 1, delay_s[k], 0.08);
    CwBeats beats;
    CwTapsFound found;
    assert_int_equal(cw_beats_by_taps(&features, &taps, NULL, NULL, &beats, &found), CW_OK);
    assert_int_equal(beats.n, music.n);
    for (size_t i = 0; i < beats.n; i++) {
      assert_near(beats.beat[i].time_s, music.beat_s[i], 0.03);
      assert_true(beats.beat[i].confidence > 0.5F && beats.beat[i].confidence <= 1.0F);
      assert_int_equal(beats.beat[i].position, i % 4 + 1);
    }
    assert_near(found.delay_s, delay_s[k], 0.03);
    assert_near(found.spread_s, 0.08 / sqrt(3.0), 0.015); // of an even spread over 160 ms
    assert_int_equal(found.n_missing, 3);
    assert_int_equal(found.n_extra, 3);
    assert_int_equal(found.on, CW_TAPS_ON_BEATS);
    assert_near(beats.bpm, 120, 1);
    cw_beats_free(&beats);
    cw_taps_free(&taps);
  }
}

static void too_few_taps_are_no_pulse(void **state)
{
  (void)state;
  double time_s[] = {1, 1.5, 2, 99};
  const CwTaps taps = {.time_s = time_s, .n = 4};
  CwBeats beats;
  assert_int_equal(cw_beats_by_taps(&features, &taps, NULL, NULL, &beats, NULL), CW_ERR_NO_PULSE);
  assert_int_equal(beats.n, 0);
  const CwBeatOptions odd = {.metre = 7};
  assert_int_equal(cw_beats_by_taps(&features, &taps, &odd, NULL, &beats, NULL), CW_ERR_BAD_ARG);
}

static void check_lined_up(const char *notes, const CwTaps *taps, CwTapsOn given, CwTapsOn wanted, size_t first,
                           size_t step)
{
  CwTapsFound found;
  const CwLineupOptions options = {.taps = taps, .taps_on = given, .found = &found};
  Lined lined = line_up(&features, notes, &options);
  assert_int_equal(lined.status, CW_OK);
  assert_sound(&lined.line);
  assert_on_beats(&lined.line, &music, first, step, 0.03);
  assert_int_equal(found.on, wanted);
  lined_free(&lined);
}

static const char eights[] = "metre: 4/4\nbeats per count: 1\nwalk\nturn\nrun\njump\nwalk\nturn\nrun\njump\n";

static void taps_lead_the_counts(void **state)
{
  (void)state;
  CwTaps taps = tap(0, 1, 0.07, 0.08);
  check_lined_up(eights, &taps, CW_TAPS_ON_ANY, CW_TAPS_ON_COUNTS, 0, 1);
  check_lined_up(eights, &taps, CW_TAPS_ON_BEATS, CW_TAPS_ON_BEATS, 0, 1);
  cw_taps_free(&taps);
}

static void the_first_tap_need_not_be_the_first_count(void **state)
{
  (void)state;
  CwTaps taps = tap(0, 1, 0.07, 0.05);
  check_lined_up(
      "metre: 4/4\nbeats per count: 1\n4 walk\n8 turn\n8 run\n8 jump\n8 walk\n8 turn\n8 run\n8 @0:29.0 jump\n", &taps,
      CW_TAPS_ON_COUNTS, CW_TAPS_ON_COUNTS, 4, 1);
  cw_taps_free(&taps);
}

static void taps_may_be_on_ones_alone(void **state)
{
  (void)state;
  CwTaps taps = tap(0, 8, 0.07, 0.06);
  check_lined_up(eights, &taps, CW_TAPS_ON_ANY, CW_TAPS_ON_ONES, 0, 1);
  cw_taps_free(&taps);
}

static void taps_on_beats_lead_counts_of_two(void **state)
{
  (void)state;
  CwTaps taps = tap(0, 1, 0.07, 0.06);
  check_lined_up("metre: 4/4\nbeats per count: 2\nwalk\nturn\nrun\njump\n", &taps, CW_TAPS_ON_ANY, CW_TAPS_ON_BEATS, 0,
                 2);
  cw_taps_free(&taps);
  taps = tap(0, 2, 0.07, 0.06);
  check_lined_up("metre: 4/4\nbeats per count: 2\nwalk\nturn\nrun\njump\n", &taps, CW_TAPS_ON_ANY, CW_TAPS_ON_COUNTS, 0,
                 2);
  cw_taps_free(&taps);
}

static void counts_far_from_any_tap_are_searched_for(void **state)
{
  (void)state;
  CwTaps taps = tap(0, 1, 0.07, 0.05);
  taps.n = 24; // she stopped after three eights
  check_lined_up(eights, &taps, CW_TAPS_ON_COUNTS, CW_TAPS_ON_COUNTS, 0, 1);
  cw_taps_free(&taps);
}

static void a_pin_holds_beside_taps(void **state)
{
  (void)state;
  CwTaps taps = tap(0, 1, 0.07, 0.05);
  const CwLineupOptions options = {.taps = &taps, .taps_on = CW_TAPS_ON_COUNTS};
  Lined lined = line_up(&features, "beats per count: 1\nwalk\n@0:05.07 turn\nrun\njump\n4 x\n", &options);
  assert_int_equal(lined.status, CW_OK);
  assert_near(lined.line.count_s[8], 5.07, 1e-9);
  assert_near(lined.line.count_s[20], music.beat_s[20], 0.03);
  lined_free(&lined);
  cw_taps_free(&taps);
}

static void too_few_taps_leave_the_notes_as_they_were(void **state)
{
  (void)state;
  double time_s[] = {1.07};
  const CwTaps taps = {.time_s = time_s, .n = 1};
  const CwLineupOptions options = {.taps = &taps};
  Lined with = line_up(&features, eights, &options);
  Lined without = line_up(&features, eights, NULL);
  assert_int_equal(with.status, CW_OK);
  assert_int_equal(with.line.n_counts, without.line.n_counts);
  assert_memory_equal(with.line.count_s, without.line.count_s, with.line.n_counts * sizeof(double));
  lined_free(&with);
  lined_free(&without);
}

static void the_number_of_taps_tells_how_far_apart_they_are(void **state)
{
  (void)state;
  CwPlanCount count[16] = {0};
  for (size_t i = 0; i < 16; i++) {
    count[i] = (CwPlanCount){.phrase = i / 8, .beats = 3};
  }
  const CwPlan plan = {count, 16};
  assert_near(cw_beats_of_a_tap(&plan, 47, CW_TAPS_ON_ANY), 1, 1e-9);
  assert_near(cw_beats_of_a_tap(&plan, 15, CW_TAPS_ON_ANY), 3, 1e-9);
  assert_near(cw_beats_of_a_tap(&plan, 4, CW_TAPS_ON_ANY), 24, 1e-9);
  assert_near(cw_beats_of_a_tap(&plan, 15, CW_TAPS_ON_BEATS), 1, 1e-9);
}

/// All that is asked of a short piece.
static CwStatus ask_all(const CwFeatures *piece, const CwNotebook *notebook, const CwTaps *taps)
{
  CwBeats beats;
  CwCountLine line;
  CwMessages messages = {0};
  const CwLineupOptions options = {.taps = taps};
  CwStatus status = cw_beats_by_taps(piece, taps, NULL, NULL, &beats, NULL);
  assert_true(status == CW_OK || beats.n == 0);
  cw_beats_free(&beats);
  if (status == CW_OK) {
    status = cw_lineup(piece, notebook, &options, NULL, &line, &messages);
    assert_true(status == CW_OK || line.n_counts == 0);
    cw_count_line_free(&line);
  }
  cw_messages_free(&messages);
  return status;
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  static const char notes[] = "metre: 4/4\nbeats per count: 1\n4 walk\n4 turn\n";
  Music piece = {.now_s = 0.5};
  write_beats(&piece, 8, 0.4, 4);
  CwFeatures short_features = play(&piece, 4.5);
  double time_s[] = {0.57, 0.95, 1.38, 1.77, 2.16}; // three counts have no tap
  const CwTaps taps = {.time_s = time_s, .n = 5};
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = ask_all(&short_features, &notebook, &taps);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 30);
  cw_notebook_free(&notebook);
  cw_features_free(&short_features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(beats_are_better_than_the_taps),
      cmocka_unit_test(too_few_taps_are_no_pulse),
      cmocka_unit_test(taps_lead_the_counts),
      cmocka_unit_test(the_first_tap_need_not_be_the_first_count),
      cmocka_unit_test(taps_may_be_on_ones_alone),
      cmocka_unit_test(taps_on_beats_lead_counts_of_two),
      cmocka_unit_test(counts_far_from_any_tap_are_searched_for),
      cmocka_unit_test(a_pin_holds_beside_taps),
      cmocka_unit_test(too_few_taps_leave_the_notes_as_they_were),
      cmocka_unit_test(the_number_of_taps_tells_how_far_apart_they_are),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, make_music, free_music);
}
