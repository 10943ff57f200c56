// SPDX-License-Identifier: GPL-3.0-or-later
/// Bars of every kind, found in music of our own.
#include "unit/cw_test.h"

#include <string.h>

#include "unit/pulse/pieces.h"

static const double lead_s = 0.8;
static const double close_s = 0.02;
static const double root[] = {48, 53, 55, 48, 45, 50, 55, 43};

/// Music being written bar by bar. A bar is said by a letter for each of its pulses: B a deep bass note and the melody,
/// b a light bass note and the melody, m the melody over a chord, c a chord, - nothing struck.
typedef struct {
  Sound sound;
  double now_s;
  size_t n_bars;
} Score;

static void play_bar(Score *score, const char *pulses, double pulse_s)
{
  static const double melody[] = {12, 7, 16, 14, 12, 19, 16, 11};
  const double chord = root[score->n_bars % 8];
  const double end_s = score->now_s + (double)strlen(pulses) * pulse_s;
  for (size_t i = 0; pulses[i]; i++) {
    const double at_s = score->now_s + (double)i * pulse_s;
    if (pulses[i] == 'B') {
      add_struck_note(&score->sound, chord - 12, 0.25, at_s, end_s);
      add_struck_note(&score->sound, chord + 12 + melody[score->n_bars * 3 % 8], 0.12, at_s, end_s);
    } else if (pulses[i] == 'b') {
      add_struck_note(&score->sound, chord - 5, 0.14, at_s, end_s);
      add_struck_note(&score->sound, chord + 12 + melody[(score->n_bars * 5 + i) % 8], 0.1, at_s, end_s);
    } else if (pulses[i] == 'm' || pulses[i] == 'c') {
      if (pulses[i] == 'm') {
        add_struck_note(&score->sound, chord + 12 + melody[(score->n_bars * 5 + i) % 8], 0.1, at_s, end_s);
      }
      add_struck_note(&score->sound, chord + 12, 0.06, at_s, at_s + 0.9 * pulse_s);
      add_struck_note(&score->sound, chord + 16, 0.06, at_s, at_s + 0.9 * pulse_s);
    }
  }
  score->now_s = end_s;
  score->n_bars++;
}

static Score score_new(double length_s)
{
  return (Score){sound_new(length_s), lead_s, 0};
}

static CwBeats beats_of(const Sound *sound, const CwBeatOptions *options)
{
  CwFeatures features = piece_measure(sound);
  CwBeats beats = piece_find(&features, options);
  cw_features_free(&features);
  return beats;
}

static Sound play_bars(const char *const *bar, size_t n_kinds, size_t n, double pulse_s)
{
  Score score = score_new(lead_s + (double)n * 6.0 * pulse_s + 1.0);
  for (size_t i = 0; i < n; i++) {
    play_bar(&score, bar[i % n_kinds], pulse_s);
  }
  return score.sound;
}

/// Every beat from the first to the last is found, `beat_s` apart, in bars of `metre`, and if `ones`, beat 0 begins one.
static void assert_bars(const CwBeats *beats, size_t n, double beat_s, unsigned metre, bool ones)
{
  assert_in_range(beats->n, n, n + 1); // the last note may ring on over one more
  assert_int_equal(beats->metre, metre);
  for (size_t i = 0; i < n; i++) {
    assert_near(beats->beat[i].time_s, lead_s + beat_s * (double)i, close_s);
    assert_int_equal(beats->beat[i].metre, metre);
    assert_true(!ones || beats->beat[i].position == i % metre + 1);
  }
}

static void bars_of_five_are_found(void **state)
{
  (void)state;
  static const char *const bar[] = {"Bccmc", "Bcmcc"};
  for (size_t k = 0; k < 2; k++) {
    for (double bpm = 84; bpm < 140; bpm += 48) {
      Sound sound = play_bars(&bar[k], 1, 24, 60.0 / bpm);
      CwBeats beats = beats_of(&sound, NULL);
      assert_bars(&beats, 120, 60.0 / bpm, 5, true);
      cw_beats_free(&beats);
      sound_free(&sound);
    }
  }
}

/// The dotted beat is found at every tempo where 6/8 is asked for, with eighths on all of its thirds or on some.
static void six_eight_has_two_beats_in_a_bar(void **state)
{
  (void)state;
  static const char *const kind[] = {"BccbccB-cb-cB--b-cBccb--", "Bccbcc", "B-cb-c"};
  static const CwBeatOptions options = {.metre = 2, .dotted = true};
  for (size_t k = 0; k < sizeof kind / sizeof kind[0]; k++) {
    for (double bpm = 56; bpm < 116; bpm += 24) {
      Score score = score_new(32 * 120.0 / bpm + 2.0);
      for (size_t i = 0; i < 32; i++) {
        char bar[7] = "";
        memcpy(bar, kind[k] + i * 6 % strlen(kind[k]), 6);
        play_bar(&score, bar, 20.0 / bpm);
      }
      CwBeats beats = beats_of(&score.sound, &options);
      assert_bars(&beats, 64, 60.0 / bpm, 2, false);
      cw_beats_free(&beats);
      sound_free(&score.sound);
    }
  }
}

/// One bar of two among bars of four: the firsts after it are firsts again.
static void a_bar_of_two_among_bars_of_four_is_passed(void **state)
{
  (void)state;
  const double beat_s = 60.0 / 96.0;
  Score score = score_new(34 * 4 * beat_s);
  for (size_t i = 0; i < 33; i++) {
    play_bar(&score, i == 16 ? "Bc" : "Bcmc", beat_s);
  }
  CwBeats beats = beats_of(&score.sound, NULL);
  assert_in_range(beats.n, 32 * 4 + 2, 32 * 4 + 3);
  for (size_t i = 0; i < beats.n; i++) {
    const size_t into = i < 66 ? i : i - 66; // 16 bars of four and one of two
    assert_near(beats.beat[i].time_s, lead_s + beat_s * (double)i, close_s);
    if (into % 4 == 0) {
      assert_int_equal(beats.beat[i].position, 1);
    }
  }
  cw_beats_free(&beats);
  sound_free(&score.sound);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(bars_of_five_are_found),
      cmocka_unit_test(six_eight_has_two_beats_in_a_bar),
      cmocka_unit_test(a_bar_of_two_among_bars_of_four_is_passed),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
