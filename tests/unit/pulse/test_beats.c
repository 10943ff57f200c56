// SPDX-License-Identifier: GPL-3.0-or-later
/// Beats of music that is known, and what must not change them.
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "unit/pulse/pieces.h"

enum { N_BEATS = 48 };
static const double lead_s = 0.743;

static CwBeats beats_of(const Sound *sound, const CwBeatOptions *options)
{
  CwFeatures features = piece_measure(sound);
  CwBeats beats = piece_find(&features, options);
  cw_features_free(&features);
  return beats;
}

/// What the header promises of every result.
static void assert_good(const CwBeats *beats)
{
  for (size_t i = 0; i < beats->n; i++) {
    const CwBeat *beat = &beats->beat[i];
    assert_true(beat->metre >= 2 && beat->metre <= 6);
    assert_in_range(beat->position, 1, beat->metre);
    assert_true(beat->confidence >= 0 && beat->confidence <= 1);
    assert_true(i > 0 || beat->run_start);
    assert_true(i == 0 || beat->time_s > beats->beat[i - 1].time_s);
  }
}

static void the_beats_and_bars_of_a_plain_piece_are_found(void **state)
{
  (void)state;
  static const struct {
    double bpm;
    unsigned metre;
  } row[] = {{72, 4}, {96, 3}, {120, 4}, {132, 3}};
  for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
    Sound sound = piece_play(row[k].bpm, row[k].metre, N_BEATS, lead_s);
    CwBeats beats = beats_of(&sound, NULL);
    assert_good(&beats);
    assert_int_equal(beats.n, N_BEATS);
    assert_near(beats.bpm, row[k].bpm, 0.005 * row[k].bpm);
    assert_int_equal(beats.metre, row[k].metre);
    for (size_t i = 0; i < beats.n; i++) {
      assert_near(beats.beat[i].time_s, piece_beat_s(row[k].bpm, lead_s, i), 0.01);
      assert_int_equal(beats.beat[i].position, i % row[k].metre + 1);
      assert_int_equal(beats.beat[i].run_start, i == 0);
    }
    cw_beats_free(&beats);
    sound_free(&sound);
  }
}

static void silence_before_the_music_moves_the_beats(void **state)
{
  (void)state;
  Sound sound = piece_play(100, 4, N_BEATS, lead_s);
  CwBeats beats = beats_of(&sound, NULL);
  for (int k = 0; k < 2; k++) {
    const double silence_s = k == 0 ? 1.0 : 13.57;
    Sound later = sound_after_silence(&sound, silence_s);
    CwBeats moved = beats_of(&later, NULL);
    assert_int_equal(moved.n, beats.n);
    for (size_t i = 0; i < beats.n; i++) {
      assert_near(moved.beat[i].time_s, beats.beat[i].time_s + silence_s, 0.01);
      assert_int_equal(moved.beat[i].position, beats.beat[i].position);
      assert_near((double)moved.beat[i].confidence, (double)beats.beat[i].confidence, 0.1);
    }
    cw_beats_free(&moved);
    sound_free(&later);
  }
  cw_beats_free(&beats);
  sound_free(&sound);
}

static Sound clicks(double bpm, size_t n)
{
  Sound sound = sound_new(piece_beat_s(bpm, lead_s, n) + 0.5);
  for (size_t i = 0; i < n; i++) {
    add_click(&sound, 0.5, piece_beat_s(bpm, lead_s, i));
  }
  return sound;
}

static void slower_clicks_have_a_slower_tempo(void **state)
{
  (void)state;
  static const double bpm[] = {66, 108, 150};
  for (size_t k = 0; k < sizeof bpm / sizeof bpm[0]; k++) {
    double found[2];
    for (int slow = 0; slow < 2; slow++) {
      Sound sound = clicks(slow ? 0.95 * bpm[k] : bpm[k], 40);
      CwBeats beats = beats_of(&sound, NULL);
      found[slow] = beats.bpm;
      cw_beats_free(&beats);
      sound_free(&sound);
    }
    assert_near(found[1] / found[0], 0.95, 0.004);
    assert_near(found[0], bpm[k], 0.005 * bpm[k]);
  }
}

static void a_quieter_copy_has_the_same_beats(void **state)
{
  (void)state;
  Sound sound = piece_play(88, 3, N_BEATS, lead_s);
  CwBeats loud = beats_of(&sound, NULL);
  for (size_t i = 0; i < sound.n; i++) {
    sound.sample[i] *= 0.1F;
  }
  CwBeats quiet = beats_of(&sound, NULL);
  assert_int_equal(quiet.n, loud.n);
  for (size_t i = 0; i < loud.n; i++) {
    assert_near(quiet.beat[i].time_s, loud.beat[i].time_s, 0.003);
    assert_int_equal(quiet.beat[i].position, loud.beat[i].position);
    assert_int_equal(quiet.beat[i].metre, loud.beat[i].metre);
  }
  cw_beats_free(&loud);
  cw_beats_free(&quiet);
  sound_free(&sound);
}

static void what_is_known_of_the_tempo_is_kept(void **state)
{
  (void)state;
  Sound sound = piece_play(120, 4, N_BEATS, lead_s);
  static const struct {
    double least, most, likely, bpm;
  } row[] = {{100, 140, 0, 120}, {40, 80, 0, 60}, {0, 70, 0, 60}, {200, 0, 0, 240}, {0, 0, 60, 60}, {0, 0, 118, 120}};
  for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
    const CwBeatOptions options = {.min_bpm = row[k].least, .max_bpm = row[k].most, .likely_bpm = row[k].likely};
    CwBeats beats = beats_of(&sound, &options);
    assert_good(&beats);
    assert_near(beats.bpm, row[k].bpm, 0.01 * row[k].bpm);
    cw_beats_free(&beats);
  }
  sound_free(&sound);
}

static void a_known_metre_is_kept(void **state)
{
  (void)state;
  static const unsigned metre[] = {2, 3, 4, 6};
  Sound sound = piece_play(120, 4, N_BEATS, lead_s);
  for (size_t k = 0; k < sizeof metre / sizeof metre[0]; k++) {
    const CwBeatOptions options = {.metre = metre[k]};
    CwBeats beats = beats_of(&sound, &options);
    assert_int_equal(beats.metre, metre[k]);
    for (size_t i = 0; i < beats.n; i++) {
      assert_int_equal(beats.beat[i].metre, metre[k]);
      assert_true(i == 0 || beats.beat[i].run_start ||
                  beats.beat[i].position == beats.beat[i - 1].position % metre[k] + 1);
    }
    cw_beats_free(&beats);
  }
  sound_free(&sound);
}

static void a_long_pause_parts_two_runs(void **state)
{
  (void)state;
  Sound sound = sound_new(40.0);
  for (int half = 0; half < 2; half++) {
    Sound part = piece_play(104, 4, 24, half ? 22.31 : 1.0);
    for (size_t i = 0; i < part.n && i < sound.n; i++) {
      sound.sample[i] += part.sample[i];
    }
    sound_free(&part);
  }
  CwBeats beats = beats_of(&sound, NULL);
  assert_good(&beats);
  assert_int_equal(beats.n, 48);
  for (size_t i = 0; i < beats.n; i++) {
    assert_int_equal(beats.beat[i].run_start, i % 24 == 0);
    assert_near(beats.beat[i].time_s, piece_beat_s(104, i < 24 ? 1.0 : 22.31, i % 24), 0.01);
  }
  assert_near(beats.bpm, 104, 0.5); // the pause is no interval
  cw_beats_free(&beats);
  sound_free(&sound);
}

static void assert_status(const Sound *sound, const CwBeatOptions *options, CwStatus wanted)
{
  CwFeatures features = piece_measure(sound);
  CwBeats beats;
  memset(&beats, 0x55, sizeof beats);
  assert_int_equal(cw_beats_find(&features, options, NULL, &beats), wanted);
  assert_int_equal(beats.n, 0);
  assert_null(beats.beat);
  cw_features_free(&features);
}

static void what_cannot_be_done_is_told(void **state)
{
  (void)state;
  Sound silence = sound_new(12.0);
  assert_status(&silence, NULL, CW_ERR_NO_PULSE);
  add_noise(&silence, 0.1);
  assert_status(&silence, NULL, CW_ERR_NO_PULSE);
  sound_free(&silence);
  Sound nothing = sound_new(0.0);
  assert_status(&nothing, NULL, CW_ERR_TOO_SHORT);
  sound_free(&nothing);
  Sound brief = piece_play(100, 4, 3, 0.0);
  brief.n = (size_t)(1.99 * CW_ANALYSIS_RATE_HZ);
  assert_status(&brief, NULL, CW_ERR_TOO_SHORT);
  sound_free(&brief);
  Sound sound = piece_play(120, 4, 12, 0.0);
  static const CwBeatOptions bad[] = {{.metre = 8},    {.metre = 1},     {.metre = 7}, {.min_bpm = 150, .max_bpm = 100},
                                      {.max_bpm = 20}, {.max_bpm = 7000}};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(&sound, &bad[i], CW_ERR_BAD_ARG);
  }
  sound_free(&sound);
  cw_beats_free(NULL);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_beats_and_bars_of_a_plain_piece_are_found),
      cmocka_unit_test(silence_before_the_music_moves_the_beats),
      cmocka_unit_test(slower_clicks_have_a_slower_tempo),
      cmocka_unit_test(a_quieter_copy_has_the_same_beats),
      cmocka_unit_test(what_is_known_of_the_tempo_is_kept),
      cmocka_unit_test(a_known_metre_is_kept),
      cmocka_unit_test(a_long_pause_parts_two_runs),
      cmocka_unit_test(what_cannot_be_done_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
