// SPDX-License-Identifier: GPL-3.0-or-later
/// Notes on music whose counts are known.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "unit/cw_test.h"
#include "unit/dsp/tones.h"
#include "unit/lineup/music.h"

static const double close_s = 0.010;

static void counts_fall_on_the_beats_of_the_music(void **state)
{
  (void)state;
  Music music = {.now_s = 0.737};
  write_beats(&music, 48, 0.613, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 4/4\nwalk\nturn\nrun\nwalk\nturn\npose\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_silent(&lined.messages);
  assert_int_equal(lined.line.n_counts, 48);
  assert_int_equal(lined.line.n_phrases, 6);
  assert_int_equal(lined.line.metre, 4);
  assert_near(lined.line.beats_per_count, 1.0, 0);
  assert_sound(&lined.line);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  assert_near(lined.line.phrase[5].end_s, music.now_s, 0.05);
  lined_free(&lined);
  cw_features_free(&features);
}

static void a_waltz_is_counted_in_one(void **state)
{
  (void)state;
  Music music = {.now_s = 0.52};
  write_beats(&music, 72, 0.37, 3);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 3/4\nbeats per count: 3\nwaltz\nturn\nwaltz\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_counts, 24);
  assert_near(lined.line.beats_per_count, 3.0, 0);
  assert_on_beats(&lined.line, &music, 0, 3, close_s);
  lined_free(&lined);
  // the same music counted by the beat
  const CwLineupOptions by_beat = {.beats_per_count = 1};
  lined = line_up(&features, "metre: 3/4\nbeats per count: 3\n24 waltz\n24 turn\n24 waltz\n", &by_beat);
  assert_int_equal(lined.status, CW_OK);
  assert_near(lined.line.beats_per_count, 1.0, 0);
  assert_int_equal(lined.line.n_counts, 72);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  lined_free(&lined);
  cw_features_free(&features);
}

static void half_counts_lie_between_the_beats(void **state)
{
  (void)state;
  Music music = {.now_s = 0.61};
  write_beats(&music, 24, 1.09, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  const char *notes[] = {"metre: 4/4\nbeats per count: 0.5\ngo x6\n", "beats per count: 1/2\ngo x6\n"};
  for (size_t k = 0; k < 2; k++) { // with and without a metre
    Lined lined = line_up(&features, notes[k], NULL);
    assert_int_equal(lined.status, CW_OK);
    assert_int_equal(lined.line.n_counts, 48);
    for (size_t i = 0; i < 48; i += 2) {
      assert_near(lined.line.count_s[i], music.beat_s[i / 2], close_s);
      assert_near(lined.line.count_s[i + 1], music.beat_s[i / 2] + 0.545, 0.03);
    }
    lined_free(&lined);
  }
  cw_features_free(&features);
}

static void counts_of_a_beat_and_a_half_fall_on_their_beats(void **state)
{
  (void)state;
  Music music = {.now_s = 0.61};
  write_beats(&music, 48, 0.5, 3);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 3/4\nbeats per count: 1.5\nsway\nsway\nsway\nsway\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_counts, 32);
  for (size_t i = 0; i < 32; i += 2) {
    assert_near(lined.line.count_s[i], music.beat_s[i / 2 * 3], close_s);
  }
  lined_free(&lined);
  cw_features_free(&features);
}

/// Two eights, music without counts or silence for `hold_s`, three eights.
static void check_hold(double hold_s, const char *hold_line)
{
  char notes[200];
  snprintf(notes, sizeof notes, "metre: 4/4\nwalk\nturn\n%s\nrun\nwalk\npose\n", hold_line);
  Music music = {.now_s = 0.83};
  write_beats(&music, 16, 0.55, 4);
  const double held_from_s = music.now_s;
  music.now_s += hold_s;
  write_beats(&music, 24, 0.55, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, notes, NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_silent(&lined.messages);
  assert_sound(&lined.line);
  assert_int_equal(lined.line.n_counts, 40);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  assert_near(lined.line.phrase[1].end_s, held_from_s, 0.1);
  lined_free(&lined);
  cw_features_free(&features);
}

static void a_hold_lasts_as_long_as_it_does(void **state)
{
  (void)state;
  check_hold(3.17, "hold");
  check_hold(3.17, "hold 0:03");
  check_hold(3.17, "hold until @0:12.8");
}

static void a_hold_may_be_longer_than_any_count(void **state)
{
  (void)state;
  check_hold(25.0, "hold");
  check_hold(25.0, "hold 0:25");
  check_hold(25.0, "hold 0:20");
}

static void the_end_of_a_hold_is_obeyed(void **state)
{
  (void)state;
  Music music = {.now_s = 0.83};
  write_beats(&music, 32, 0.55, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "walk\nhold until @0:07.123\nturn\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_near(lined.line.count_s[8], 7.123, 1e-9);
  assert_sound(&lined.line);
  lined_free(&lined);
  cw_features_free(&features);
}

static void a_pick_up_has_no_counts(void **state)
{
  (void)state;
  Music music = {.now_s = 0.5};
  write_beats(&music, 1, 0.6, 4);
  music.place[0] = 3;
  write_beats(&music, 32, 0.6, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 4/4\nwalk\nturn\nrun\npose\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_counts, 32);
  assert_on_beats(&lined.line, &music, 1, 1, close_s);
  lined_free(&lined);
  cw_features_free(&features);
}

static void silence_before_the_music_moves_all_counts(void **state)
{
  (void)state;
  Music music = {.now_s = 31.4};
  write_beats(&music, 32, 0.6, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 4/4\nwalk\nturn\nrun\npose\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_counts, 32);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  lined_free(&lined);
  cw_features_free(&features);
}

static void a_new_section_may_have_another_tempo(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 24, 0.7, 4);
  write_beats(&music, 32, 0.43, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 4/4\n# slow\nwalk\nturn\npose\n# quick\nrun\njump\nrun\njump\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_silent(&lined.messages);
  assert_int_equal(lined.line.n_counts, 56);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  lined_free(&lined);
  cw_features_free(&features);
}

static void one_pin_settles_a_long_introduction(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 80, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  char notes[100];
  snprintf(notes, sizeof notes, "metre: 4/4\n@ %.3f walk\nturn\nrun\npose\n", music.beat_s[48]);
  Lined lined = line_up(&features, notes, NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_silent(&lined.messages);
  assert_int_equal(lined.line.n_counts, 32);
  assert_on_beats(&lined.line, &music, 48, 1, close_s);
  assert_near(lined.line.phrase[0].confidence, 1.0, 0);
  assert_true(lined.line.phrase[1].confidence < 1.0);
  lined_free(&lined);
  cw_features_free(&features);
}

static void phrases_may_have_any_number_of_counts(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 64, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  Lined lined = line_up(&features, "metre: 4/4\n32 counts walk\n1 count clap\n31 counts turn\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_phrases, 3);
  assert_int_equal(lined.line.phrase[1].counts, 1);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  lined_free(&lined);
  lined = line_up(&features, "1 count clap\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_counts, 1);
  assert_sound(&lined.line);
  lined_free(&lined);
  lined = line_up(&features, "", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_int_equal(lined.line.n_phrases, 0);
  lined_free(&lined);
  cw_features_free(&features);
}

static void absurd_beats_per_count_are_said_and_clamped(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 32, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  const double absurd[] = {0.01, 1000.0, HUGE_VAL, 1e-300};
  for (size_t k = 0; k < 4; k++) {
    const CwLineupOptions options = {.beats_per_count = absurd[k]};
    Lined lined = line_up(&features, "walk\nturn\n", &options);
    assert_int_equal(lined.status, CW_OK);
    assert_says(&lined.messages, "no music has");
    assert_sound(&lined.line);
    assert_int_equal(lined.line.n_phrases > 0, absurd[k] < 1.0); // 16 beats to a count are too many for this music
    lined_free(&lined);
  }
  const CwLineupOptions none = {.beats_per_count = NAN};
  Lined lined = line_up(&features, "4 walk\n4 turn\n4 walk\n4 walk\n8 turn\n8 walk\n", &none);
  assert_int_equal(lined.status, CW_OK);
  assert_on_beats(&lined.line, &music, 0, 1, close_s);
  lined_free(&lined);
  cw_features_free(&features);
}

static void without_pulse_there_is_no_line_but_by_pins(void **state)
{
  (void)state;
  Sound sound = sound_new(20.0);
  for (int noise = 0; noise < 2; noise++) {
    if (noise) {
      add_noise(&sound, 0.3);
    }
    CwFeatures features;
    assert_int_equal(cw_features_measure(sound.sample, sound.n, &features), CW_OK);
    Lined lined = line_up(&features, "walk\nturn\n", NULL);
    assert_int_equal(lined.status, CW_ERR_NO_PULSE);
    assert_int_equal(lined.line.n_counts, 0);
    lined_free(&lined);
    lined = line_up(&features, "@0:02 walk 5@0:04\nturn\nrun\nrun\nrun\nrun\nrun\n", NULL);
    assert_int_equal(lined.status, CW_OK);
    assert_sound(&lined.line);
    assert_int_equal(lined.line.n_counts, 40); // the phrases that begin within the recording
    for (size_t i = 0; i < lined.line.n_counts; i++) {
      assert_near(lined.line.count_s[i], 2.0 + 0.5 * (double)i, 1e-9);
    }
    lined_free(&lined);
    lined = line_up(&features, "walk\nturn\n@0:05 run 5@0:07\n", NULL);
    assert_int_equal(lined.status, CW_OK);
    for (size_t i = 0; i < 16; i++) { // quicker than by the pins, not to begin before the recording
      assert_near(lined.line.count_s[i], 5.0 / 16 * (double)i, 1e-9);
    }
    lined_free(&lined);
    const CwLineupOptions without = {.without_pins = true};
    lined = line_up(&features, "@0:02 walk 5@0:04\nturn\n", &without);
    assert_int_equal(lined.status, CW_ERR_NO_PULSE);
    lined_free(&lined);
    cw_features_free(&features);
  }
  sound_free(&sound);
}

static void a_recording_under_two_seconds_is_too_short(void **state)
{
  (void)state;
  Music music = {.now_s = 0.1};
  write_beats(&music, 4, 0.5, 4);
  CwFeatures features = play(&music, 1.99);
  Lined lined = line_up(&features, "walk\n", NULL);
  assert_int_equal(lined.status, CW_ERR_TOO_SHORT);
  assert_int_equal(lined.line.n_counts, 0);
  lined_free(&lined);
  cw_features_free(&features);
  features = play(&music, 2.1);
  lined = line_up(&features, "4 walk\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_sound(&lined.line);
  lined_free(&lined);
  lined = line_up(&features, "@1 4 walk 3@1.01\n@0:02 walk\nturn\n", NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_sound(&lined.line);
  assert_near(lined.line.count_s[4], 2.0, 1e-9);
  lined_free(&lined);
  cw_features_free(&features);
}

static void ten_thousand_counts_can_be_lined_up(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 64, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  char *notes = cw_new(1, 20000);
  assert_non_null(notes);
  for (size_t k = 0; k < 1250; k++) {
    strcat(notes + 5 * k, "walk\n");
  }
  Lined lined = line_up(&features, notes, NULL);
  free(notes);
  assert_int_equal(lined.status, CW_OK);
  assert_sound(&lined.line);
  assert_true(lined.line.n_phrases > 0 && lined.line.n_phrases < 30);
  assert_says(&lined.messages, "before the notes");
  lined_free(&lined);
  cw_features_free(&features);
}

/// Says no after some calls.
static bool stop_after(void *user, const char *stage, double fraction)
{
  int *left = user;
  assert_non_null(stage);
  assert_true(fraction <= 1.0);
  return (*left)-- > 0;
}

static void it_can_be_cancelled_at_any_moment(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 64, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  const char *notes = "walk x8\n";
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  int calls = 0;
  CwStatus status = CW_ERR_CANCELLED;
  for (; status == CW_ERR_CANCELLED; calls++) {
    int left = calls;
    const CwReport report = {.progress = stop_after, .user = &left};
    CwCountLine line;
    CwMessages messages = {0};
    status = cw_lineup(&features, &notebook, NULL, &report, &line, &messages);
    assert_int_equal(line.n_counts, status == CW_OK ? 64 : 0);
    cw_count_line_free(&line);
    cw_messages_free(&messages);
  }
  assert_int_equal(status, CW_OK);
  assert_true(calls > 4); // both searches ask
  cw_notebook_free(&notebook);
  cw_features_free(&features);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  Music music = {.now_s = 0.7};
  write_beats(&music, 32, 0.5, 4);
  CwFeatures features = play(&music, music.now_s + 1.0);
  const char *notes = "beats per count: 0.01\nwalk 3&@3.0\nhold\nturn\n@1:00 run\n@0:01 run\nrun\nrun\n";
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    CwCountLine line;
    CwMessages messages = {0};
    cw_fail_after(n);
    status = cw_lineup(&features, &notebook, NULL, NULL, &line, &messages);
    cw_fail_after(-1);
    assert_true(status == CW_OK || (line.n_counts == 0 && !line.phrase));
    cw_count_line_free(&line);
    cw_messages_free(&messages);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 30);
  cw_notebook_free(&notebook);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(counts_fall_on_the_beats_of_the_music),
      cmocka_unit_test(a_waltz_is_counted_in_one),
      cmocka_unit_test(half_counts_lie_between_the_beats),
      cmocka_unit_test(counts_of_a_beat_and_a_half_fall_on_their_beats),
      cmocka_unit_test(a_hold_lasts_as_long_as_it_does),
      cmocka_unit_test(a_hold_may_be_longer_than_any_count),
      cmocka_unit_test(the_end_of_a_hold_is_obeyed),
      cmocka_unit_test(a_pick_up_has_no_counts),
      cmocka_unit_test(silence_before_the_music_moves_all_counts),
      cmocka_unit_test(a_new_section_may_have_another_tempo),
      cmocka_unit_test(one_pin_settles_a_long_introduction),
      cmocka_unit_test(phrases_may_have_any_number_of_counts),
      cmocka_unit_test(absurd_beats_per_count_are_said_and_clamped),
      cmocka_unit_test(without_pulse_there_is_no_line_but_by_pins),
      cmocka_unit_test(a_recording_under_two_seconds_is_too_short),
      cmocka_unit_test(ten_thousand_counts_can_be_lined_up),
      cmocka_unit_test(it_can_be_cancelled_at_any_moment),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
