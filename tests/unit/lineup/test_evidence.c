// SPDX-License-Identifier: GPL-3.0-or-later
/// What notes change against the music alone, and how that is told.
#include <string.h>

#include "base/memory.h"
#include "countwright/evidence.h"
#include "lineup/alone.h"
#include "lineup/expect.h"
#include "lineup/noted.h"
#include "unit/cw_test.h"
#include "unit/lineup/music.h"

static void assert_explained(const CwEvidence *evidence, const char *const *wanted, size_t n)
{
  CwMessages messages = {0};
  assert_int_equal(cw_evidence_explain(evidence, &messages), CW_OK);
  for (size_t i = 0; i < n; i++) {
    assert_says(&messages, wanted[i]);
  }
  assert_int_equal(messages.n, n);
  cw_messages_free(&messages);
}

static void each_change_is_told_in_a_line(void **state)
{
  (void)state;
  CwEvidence e = {.level = {3, 1, 62, 62}, .alone = {4, 1, 124, 124}, .alone_known = true, .n_ones = 40, .n_moved = 23};
  assert_explained(&e, NULL, 0); // nothing was lined up
  e.known = true;
  e.level_given = true;
  assert_explained(&e,
                   (const char *[]){"the notes settle the tempo: 62 counts a minute; the music alone was found at 124",
                                    "bars of 3 where the music alone gave 4", "23 of 40 ones moved by more than 70 ms"},
                   3);
  e = (CwEvidence){.known = true, .level = {4, 1, 100, 100}, .alone = {4, 1, 104, 104}, .alone_known = true};
  e.tempo_low_bpm = 66;
  e.tempo_high_bpm = 76;
  assert_explained(&e, (const char *[]){"the notes' tempo, 66 to 76 beats a minute, is left aside: 100 are found"}, 1);
  e.tempo_used = true;
  assert_explained(&e, NULL, 0);
  e.n_repeats = 6;
  assert_explained(&e, (const char *[]){"the repeats do not have the same music"}, 1);
  e.n_alike = 5;
  assert_explained(&e, (const char *[]){"5 of 6 repeats have music alike"}, 1);
  e.n_moved_by_alike = 9;
  assert_explained(&e, (const char *[]){"5 of 6 repeats have music alike, and 9 counts moved by it"}, 1);
}

static Lined lined_with(const CwFeatures *features, const char *notes, CwEvidence *evidence)
{
  const CwLineupOptions options = {.evidence = evidence};
  return line_up(features, notes, &options);
}

/// Eight eights of beats, told as such and then as half as many counts.
static void the_counts_of_the_notes_choose_the_level(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 64, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  static const struct {
    const char *notes;
    double beats;
    size_t step; // beats of the music
  } row[] = {{"metre: 4/4\nwalk x8\n", 1, 1}, {"metre: 4/4\nwalk x4\n", 2, 2}, {"metre: 4/4\nwalk x2\n", 4, 4}};
  for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
    CwEvidence evidence;
    Lined lined = lined_with(&features, row[k].notes, &evidence);
    assert_int_equal(lined.status, CW_OK);
    assert_near(lined.line.beats_per_count, row[k].beats, 0);
    assert_on_beats(&lined.line, &music, 0, row[k].step, 0.02);
    assert_true(evidence.known && evidence.alone_known && !evidence.level_given);
    assert_near(evidence.level.beats_per_min, 120, 1);
    assert_near(evidence.alone.beats_per_min, 120, 1);
    assert_int_equal(evidence.n_ones, lined.line.n_phrases);
    assert_true(evidence.n_moved <= evidence.n_ones);
    lined_free(&lined);
  }
  cw_features_free(&features);
}

static void what_notes_and_caller_give_is_known_as_given(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 48, 0.4, 3);
  CwFeatures features = play(&music, music.now_s + 1.0);
  CwEvidence evidence;
  Lined lined = lined_with(&features, "metre: 3/4\nbeats per count: 3\nwalk x2\n", &evidence);
  assert_true(evidence.known && evidence.level_given);
  assert_near(evidence.level.beats_per_count, 3, 0);
  assert_near(evidence.level.counts_per_min, 50, 0.5);
  assert_int_equal(evidence.level.metre, 3);
  assert_near(evidence.alone.beats_per_count, 3, 0); // as the music alone is counted
  lined_free(&lined);
  const CwLineupOptions options = {.beats_per_count = 1, .evidence = &evidence};
  lined = line_up(&features, "metre: 3/4\n48 walk\n", &options);
  assert_true(evidence.level_given);
  assert_near(evidence.level.counts_per_min, 150, 1.5);
  lined_free(&lined);
  cw_features_free(&features);
}

/// Evidence is only told: it changes nothing.
static void asking_for_evidence_changes_no_count(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 48, 0.55, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  const char *notes = "metre: 4/4\nbeats per count: 1\ntempo: allegro\nwalk x6\n";
  CwEvidence evidence;
  Lined with = lined_with(&features, notes, &evidence);
  Lined without = line_up(&features, notes, NULL);
  assert_int_equal(with.line.n_counts, without.line.n_counts);
  for (size_t i = 0; i < with.line.n_counts; i++) {
    assert_near(with.line.count_s[i], without.line.count_s[i], 0);
  }
  assert_true(evidence.tempo_used); // 109 a minute is near 120
  assert_near(evidence.tempo_low_bpm, 120, 0);
  lined_free(&with);
  lined_free(&without);
  cw_features_free(&features);
}

/// Beats per count for notes of so many counts to fill music alone found at `bpm` in bars of `metre`.
static double fitting(double bpm, unsigned metre, double sound_s, const char *notes)
{
  CwNotebook notebook;
  const CwAlone alone = {.beats = {.bpm = bpm, .metre = metre, .n = 100}};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  const double beats = cw_fitting_beats(&alone, &notebook, sound_s);
  cw_notebook_free(&notebook);
  return beats;
}

static void beats_per_count_fit_counts_metre_and_tempo(void **state)
{
  (void)state;
  assert_near(fitting(120, 4, 32.0, "walk x8\n"), 1, 0);
  assert_near(fitting(120, 4, 32.0, "walk x4\n"), 2, 0);
  assert_near(fitting(120, 4, 32.0, "walk x16\n"), 0.5, 0);
  assert_near(fitting(120, 4, 46.0, "walk x8\n"), 1, 0);            // notes may leave some music out
  assert_near(fitting(180, 3, 64.0, "walk x8\n"), 3, 0);            // a waltz counted in one
  assert_near(fitting(180, 3, 21.3, "walk x8\n"), 1, 0);            // and by the beat
  assert_near(fitting(60, 2, 64.0, "metre: 6/8\nwalk x8\n"), 3, 0); // dotted beats: three eighths
  assert_near(fitting(0, 0, 64.0, "metre: 6/8\nwalk x8\n"), 3, 0);
  assert_near(fitting(0, 0, 64.0, "metre: 3/4\nwalk x8\n"), 0, 0);
  assert_near(fitting(120, 4, 45.0, "tempo: 60\nwalk x8\n"), 1, 0);
  assert_near(fitting(120, 4, 48.0, "tempo: 80\nwalk x8\n"), 1, 0);
}

static CwPlan plan_of(const char *notes)
{
  CwNotebook notebook;
  CwPlan plan;
  CwMessages messages = {0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  assert_int_equal(cw_plan_make(&notebook, 0, &plan, &messages), CW_OK);
  cw_notebook_free(&notebook);
  cw_messages_free(&messages);
  return plan;
}

static void a_noted_tempo_limits_what_is_likely(void **state)
{
  (void)state;
  CwPlan plan = plan_of("tempo: 100-120\nbeats per count: 2\nwalk x4\n"); // a count is 1 to 1.2 s
  assert_near(cw_noted_count(&plan, 1.1), 1.1, 1e-9);
  assert_near(cw_noted_count(&plan, 1.9), 1.2 * 1.35, 1e-9);
  assert_near(cw_noted_count(&plan, 0.6), 1.0 / 1.35, 1e-9);
  assert_near(cw_noted_count(&plan, 2.4), 2.4, 1e-9); // another beat is meant
  assert_near(cw_noted_count(&plan, 0.4), 0.4, 1e-9);
  cw_plan_free(&plan);
  plan = plan_of("walk x4\n");
  assert_near(cw_noted_count(&plan, 9.0), 9.0, 0);
  cw_plan_free(&plan);
}

/// A slow section is expected to take longer than a quick one of as many counts.
static void sections_take_the_time_of_their_tempo(void **state)
{
  (void)state;
  double before_s[3001];
  for (size_t i = 0; i < 3001; i++) {
    before_s[i] = (double)i / CW_FEATURE_RATE_HZ;
  }
  const CwSound sound = {before_s, 3000};
  CwPlan plan = plan_of("# Adagio\n8 walk\n# Allegro\n8 run\n");
  double time_s[16];
  cw_expect_times(&plan, &sound, time_s);
  assert_near(time_s[0], 0, 1e-9);
  assert_true(time_s[8] > 17 && time_s[8] < 23); // of 30 s
  const double likely_s = cw_likely_count(&plan, &sound);
  double all_s = 0;
  for (size_t i = 0; i < 16; i++) {
    all_s += likely_s * exp(plan.count[i].ln_pace);
  }
  assert_true(all_s <= 30.0 + 1e-6);
  cw_plan_free(&plan);
  plan = plan_of("8 walk\n8 run\n");
  cw_expect_times(&plan, &sound, time_s);
  assert_near(time_s[8], 15, 0.02);
  cw_plan_free(&plan);
}

/// Two pins tell how long counts are before, between and after them; no stretch is taken to be beyond double tempo.
static void stretches_between_pins_have_their_own_tempo(void **state)
{
  (void)state;
  double before_s[4801];
  for (size_t i = 0; i < 4801; i++) {
    before_s[i] = (double)i / CW_FEATURE_RATE_HZ;
  }
  const double all_s = 4800.0 / CW_FEATURE_RATE_HZ;
  const CwSound sound = {before_s, 4800};
  CwPlan plan = plan_of("8 walk\n8 run\n8 run\n4 bow\n");
  cw_expect_stretches(&plan, &sound, 1.0);
  assert_near(plan.count[0].ln_stretch, 0, 0);
  plan.count[8].pin_s = 8.0;
  plan.count[16].pin_s = 12.0;
  plan.count[24].pin_s = all_s - 2.0;
  cw_expect_stretches(&plan, &sound, 1.0);
  assert_near(plan.count[7].ln_stretch, 0, 0.01);
  assert_near(plan.count[8].ln_stretch, log(0.5), 0.01);
  assert_near(plan.count[15].ln_stretch, log(0.5), 0.01);
  assert_near(plan.count[23].ln_stretch, 0.7, 1e-9);
  assert_near(plan.count[27].ln_stretch, 0, 0); // four counts tell too little
  cw_plan_free(&plan);
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  const CwEvidence e = {.known = true,
                        .level = {3, 1, 62, 62},
                        .alone = {4, 1, 124, 124},
                        .alone_known = true,
                        .n_ones = 9,
                        .n_moved = 2,
                        .n_repeats = 4};
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 40; n++) {
    CwMessages messages = {0};
    cw_fail_after(n);
    status = cw_evidence_explain(&e, &messages);
    cw_fail_after(-1);
    cw_messages_free(&messages);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 4);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_change_is_told_in_a_line),
      cmocka_unit_test(the_counts_of_the_notes_choose_the_level),
      cmocka_unit_test(what_notes_and_caller_give_is_known_as_given),
      cmocka_unit_test(asking_for_evidence_changes_no_count),
      cmocka_unit_test(beats_per_count_fit_counts_metre_and_tempo),
      cmocka_unit_test(a_noted_tempo_limits_what_is_likely),
      cmocka_unit_test(sections_take_the_time_of_their_tempo),
      cmocka_unit_test(stretches_between_pins_have_their_own_tempo),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
