// SPDX-License-Identifier: GPL-3.0-or-later
/// The features of sounds that are known: what is heard, and when.
#include "unit/cw_test.h"

#include <stdio.h>

#include <sndfile.h>

#include "countwright/audio.h"
#include "countwright/features.h"
#include "unit/dsp/tones.h"

static const double frame_s = 1.0 / CW_FEATURE_RATE_HZ;
static const double pi = 3.14159265358979323846;

static CwFeatures measure(const Sound *sound)
{
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound->sample, sound->n, &features), CW_OK);
  return features;
}

/// Index of the greatest of x[from] to x[to - 1].
static size_t greatest(const float *x, size_t from, size_t to)
{
  size_t best = from;
  for (size_t i = from; i < to; i++) {
    best = x[i] > x[best] ? i : best;
  }
  return best;
}

static double mean(const float *x, size_t from, size_t to)
{
  double sum = 0;
  for (size_t i = from; i < to; i++) {
    sum += (double)x[i];
  }
  return sum / (double)(to - from);
}

/// The mean square of a full sine is a half (-3.01 dB), of a square wave 1 (0 dB).
static void the_level_is_in_decibels_of_full_scale(void **state)
{
  (void)state;
  Sound sound = sound_new(4.0);
  add_tone(&sound, 1000.0, 1.0, 0.0, 1.0);
  add_tone(&sound, 1000.0, 0.1, 1.0, 2.0);
  for (size_t i = 2 * CW_ANALYSIS_RATE_HZ; i < 3 * CW_ANALYSIS_RATE_HZ; i++) {
    sound.sample[i] = i / 50 % 2 ? 1.0F : -1.0F;
  }
  CwFeatures f = measure(&sound);
  for (size_t i = 5; i < 95; i++) {
    assert_near((double)f.level_db[i], -3.01, 0.3); // 10 ms hold no whole number of cycles
    assert_near((double)f.level_db[i + 100], -23.01, 0.3);
    assert_near((double)f.level_db[i + 200], 0.0, 1e-4);
    assert_near((double)f.level_db[i + 300], -120.0, 0);
  }
  assert_near(mean(f.level_db, 5, 95), -3.01, 0.02);
  cw_features_free(&f);
  sound_free(&sound);
}

/// MIDI Tuning Standard: note 60 is C (class 0), 69 is A at 440 Hz (class 9). Lower down some semitones share a bin.
static void every_note_is_heard_in_its_own_pitch_class(void **state)
{
  (void)state;
  enum { LOWEST = 52, HIGHEST = 95 };
  Sound sound = sound_new(HIGHEST - LOWEST + 1);
  for (int note = LOWEST; note <= HIGHEST; note++) {
    add_tone(&sound, note_hz(note), 0.5, note - LOWEST, note - LOWEST + 0.9);
  }
  CwFeatures f = measure(&sound);
  for (int note = LOWEST; note <= HIGHEST; note++) {
    const float *row = f.chroma + (size_t)((note - LOWEST) * 10 + 4) * 12;
    const size_t heard = greatest(row, 0, 12);
    if (heard != (size_t)note % 12) {
      print_error("note %d is heard as class %zu\n", note, heard);
    }
    assert_int_equal(heard, note % 12);
  }
  cw_features_free(&f);
  sound_free(&sound);
}

static void a_click_is_placed_by_the_attack_envelope(void **state)
{
  (void)state;
  Sound sound = sound_new(20.0);
  for (int k = 0; k < 18; k++) {
    add_click(&sound, 0.5, k + 1.0 + 0.0137 * k);
  }
  CwFeatures f = measure(&sound);
  for (int k = 0; k < 18; k++) {
    const double at_s = k + 1.0 + 0.0137 * k;
    const size_t middle = (size_t)(at_s * CW_ATTACK_RATE_HZ);
    const size_t loudest = greatest(f.attack, middle - 100, middle + 100);
    assert_in_range(loudest, middle, middle + 1); // its own value, or the next where little of it is left
    assert_true((double)mean(f.attack, middle - 100, middle) < 1e-6);
    const size_t frame = (size_t)lround(at_s / frame_s);
    const size_t onset = greatest(f.onset, frame - 40, frame + 40);
    // the windows are symmetric, so the rise is steepest while the click is on their first half
    assert_true(onset <= frame + 1);
    assert_true(onset + 4 >= frame);
  }
  cw_features_free(&f);
  sound_free(&sound);
}

static void the_harmonic_change_peaks_where_the_chord_changes(void **state)
{
  (void)state;
  static const double chord[4][3] = {{60, 64, 67}, {60, 65, 69}, {59, 62, 67}, {60, 64, 67}};
  static const double bass[4] = {48, 41, 43, 48};
  Sound sound = sound_new(12.0);
  for (int k = 0; k < 4; k++) {
    for (int i = 0; i < 3; i++) {
      add_note(&sound, chord[k][i], 0.1, 3.0 * k, 3.0 * k + 3.0);
    }
    add_note(&sound, bass[k], 0.2, 3.0 * k, 3.0 * k + 3.0);
  }
  CwFeatures f = measure(&sound);
  for (size_t k = 1; k < 4; k++) {
    const size_t peak = greatest(f.harmonic, 300 * k - 150, 300 * k + 150);
    assert_in_range(peak, 300 * k - 5, 300 * k + 5);
    const size_t low_peak = greatest(f.bass_change, 300 * k - 150, 300 * k + 150);
    assert_in_range(low_peak, 300 * k - 5, 300 * k + 5);
    for (size_t i = 300 * k - 200; i < 300 * k - 100; i++) { // while it is held
      assert_true(f.harmonic[i] < 0.05F * f.harmonic[peak]);
      assert_true(f.bass_change[i] < 0.05F * f.bass_change[low_peak]);
    }
  }
  cw_features_free(&f);
  sound_free(&sound);
}

static void held_notes_are_steady_and_noise_is_not(void **state)
{
  (void)state;
  Sound held = sound_new(8.0);
  for (int k = 0; k < 8; k++) {
    add_note(&held, 60 + 2 * k, 0.2, k, k + 1);
    add_note(&held, 64 + k, 0.2, k, k + 1);
  }
  CwFeatures f = measure(&held);
  assert_true(mean(f.steadiness, 0, f.n_slow) > 0.6);
  cw_features_free(&f);
  sound_free(&held);
  Sound noise = sound_new(8.0);
  add_noise(&noise, 0.5);
  f = measure(&noise);
  assert_true(mean(f.steadiness, 0, f.n_slow) < 0.2);
  cw_features_free(&f);
  sound_free(&noise);
}

/// A note from half a second on, whose pitch is bent by `bend` semitones (at `rate_hz`, or once for 0).
static CwFeatures measure_bent(double bend, double rate_hz)
{
  Sound sound = sound_new(4.0);
  double turn = 0;
  for (size_t i = CW_ANALYSIS_RATE_HZ / 2; i < sound.n; i++) {
    const double t = (double)i / CW_ANALYSIS_RATE_HZ - 0.5;
    turn += note_hz(76.0 + bend * (rate_hz > 0 ? sin(2 * pi * rate_hz * t) : t)) / CW_ANALYSIS_RATE_HZ;
    for (int k = 1; k <= 6; k++) {
      sound.sample[i] += (float)(0.2 * pow(0.6, k) * sin(2 * pi * turn * k));
    }
  }
  CwFeatures features = measure(&sound);
  sound_free(&sound);
  return features;
}

/// The reason for the maximum over neighbouring bands (Böck, Widmer 2013): a note begins once, however it is bent.
static void vibrato_and_glides_are_no_row_of_onsets(void **state)
{
  (void)state;
  static const struct {
    double bend, rate_hz;
  } row[] = {{0.3, 6}, {0.8, 6}, {1.5, 6}, {4, 0}, {-4, 0}};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    CwFeatures f = measure_bent(row[i].bend, row[i].rate_hz);
    const float begin = f.onset[greatest(f.onset, 40, 60)];
    assert_true(f.onset[greatest(f.onset, 80, 380)] < 0.05F * begin);
    cw_features_free(&f);
  }
}

static void a_slow_attack_is_found_near_its_rise(void **state)
{
  (void)state;
  Sound sound = sound_new(9.0);
  for (int k = 0; k < 8; k++) {
    Sound note = sound_new(9.0);
    add_note(&note, 60 + k * 5 % 12, 0.2, k + 0.5, k + 1.5);
    for (size_t i = 0; i < note.n; i++) {
      const double swell = fmin(1.0, ((double)i / CW_ANALYSIS_RATE_HZ - k - 0.5) / 0.15);
      sound.sample[i] += note.sample[i] * (float)fmax(swell, 0.0);
    }
    sound_free(&note);
  }
  CwFeatures f = measure(&sound);
  for (size_t k = 1; k < 8; k++) {
    const size_t begin = 100 * k + 50;
    const size_t peak = greatest(f.onset_slow, begin - 45, begin + 45);
    assert_in_range(peak, begin - 6, begin + 10);
    assert_true(mean(f.onset_slow, begin + 40, begin + 80) < 0.1 * (double)f.onset_slow[peak]);
  }
  cw_features_free(&f);
  sound_free(&sound);
}

/// Two bars of music that begin after a quarter of a second.
static Sound some_music(void)
{
  Sound sound = sound_new(6.0);
  for (int k = 0; k < 10; k++) {
    add_struck_note(&sound, 55 + k * 7 % 24, 0.3, 0.25 + 0.53 * k, 6.0);
    add_struck_note(&sound, 40 + k * 3 % 12, 0.2, 0.25 + 0.53 * k, 0.25 + 0.53 * (k + 1));
  }
  return sound;
}

static void assert_same(const float *a, const float *b, size_t n, double tolerance)
{
  for (size_t i = 0; i < n; i++) {
    assert_near((double)a[i], (double)b[i], tolerance);
  }
}

/// Every feature of `b` but its first `lead_s` seconds is that of `a`.
static void assert_moved(const CwFeatures *a, const CwFeatures *b, size_t lead_s, double tolerance)
{
  const size_t lead = lead_s * CW_FEATURE_RATE_HZ;
  const size_t n = a->n_frames;
  assert_int_equal(b->n_frames, n + lead);
  assert_same(b->onset + lead, a->onset, n, tolerance);
  assert_same(b->onset_slow + lead, a->onset_slow, n, tolerance);
  assert_same(b->onset_low + lead, a->onset_low, n, tolerance);
  assert_same(b->onset_high + lead, a->onset_high, n, tolerance);
  assert_same(b->harmonic + lead, a->harmonic, n, tolerance);
  assert_same(b->bass_change + lead, a->bass_change, n, tolerance);
  assert_same(b->level_db + lead, a->level_db, n, tolerance);
  assert_int_equal(b->n_attack, a->n_attack + lead_s * CW_ATTACK_RATE_HZ);
  assert_same(b->attack + lead_s * CW_ATTACK_RATE_HZ, a->attack, a->n_attack, tolerance);
  const size_t rows = lead / CW_SLOW_STEP;
  assert_int_equal(b->n_slow, a->n_slow + rows);
  assert_same(b->chroma + 12 * rows, a->chroma, 12 * a->n_slow, tolerance);
  assert_same(b->timbre + CW_TIMBRE_BANDS * rows, a->timbre, CW_TIMBRE_BANDS * a->n_slow, tolerance);
  assert_same(b->steadiness + rows, a->steadiness, a->n_slow, tolerance);
}

static void silence_before_the_music_moves_every_feature(void **state)
{
  (void)state;
  Sound sound = some_music();
  CwFeatures a = measure(&sound);
  for (size_t lead_s = 1; lead_s <= 4; lead_s += 3) {
    Sound later = sound_after_silence(&sound, (double)lead_s);
    CwFeatures b = measure(&later);
    assert_moved(&a, &b, lead_s, 1e-6);
    cw_features_free(&b);
    sound_free(&later);
  }
  cw_features_free(&a);
  sound_free(&sound);
}

static void a_quieter_copy_has_the_same_onsets_and_harmony(void **state)
{
  (void)state;
  Sound sound = some_music();
  CwFeatures a = measure(&sound);
  for (size_t i = 0; i < sound.n; i++) {
    sound.sample[i] *= 0.1F;
  }
  CwFeatures b = measure(&sound);
  // before the first note, what is heard is taken against a fixed level
  enum { FIRST = 30 };
  const size_t n = a.n_frames - FIRST;
  assert_same(a.onset + FIRST, b.onset + FIRST, n, 1e-3);
  assert_same(a.onset_slow + FIRST + 10, b.onset_slow + FIRST + 10, n - 10, 1e-3);
  assert_same(a.harmonic + FIRST + 45, b.harmonic + FIRST + 45, n - 45, 1e-3);
  assert_same(a.chroma + 12 * 3, b.chroma + 12 * 3, 12 * (a.n_slow - 3), 1e-3);
  for (size_t i = 0; i < a.n_attack; i++) {
    assert_near((double)b.attack[i], 0.1 * (double)a.attack[i], 1e-6);
  }
  for (size_t i = FIRST; i < a.n_frames; i++) {
    assert_near((double)b.level_db[i], (double)a.level_db[i] - 20.0, 0.01);
  }
  cw_features_free(&a);
  cw_features_free(&b);
  sound_free(&sound);
}

/// A file is read in blocks; samples in memory are handed over at once.
static void a_file_measures_as_its_samples_do(void **state)
{
  (void)state;
  const char *path = "test_features.wav";
  Sound sound = some_music();
  SF_INFO info = {.samplerate = CW_ANALYSIS_RATE_HZ, .channels = 1, .format = SF_FORMAT_WAV | SF_FORMAT_FLOAT};
  SNDFILE *file = sf_open(path, SFM_WRITE, &info);
  assert_non_null(file);
  assert_int_equal(sf_write_float(file, sound.sample, (sf_count_t)sound.n), sound.n);
  assert_int_equal(sf_close(file), 0);
  CwFeatures in_memory = measure(&sound);
  CwFeatures from_file;
  assert_int_equal(cw_features_read(path, NULL, &from_file), CW_OK);
  assert_near(from_file.duration_s, in_memory.duration_s, 0);
  assert_moved(&in_memory, &from_file, 0, 0);
  cw_features_free(&in_memory);
  cw_features_free(&from_file);
  sound_free(&sound);
  remove(path);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_level_is_in_decibels_of_full_scale),
      cmocka_unit_test(every_note_is_heard_in_its_own_pitch_class),
      cmocka_unit_test(a_click_is_placed_by_the_attack_envelope),
      cmocka_unit_test(the_harmonic_change_peaks_where_the_chord_changes),
      cmocka_unit_test(held_notes_are_steady_and_noise_is_not),
      cmocka_unit_test(vibrato_and_glides_are_no_row_of_onsets),
      cmocka_unit_test(a_slow_attack_is_found_near_its_rise),
      cmocka_unit_test(silence_before_the_music_moves_every_feature),
      cmocka_unit_test(a_quieter_copy_has_the_same_onsets_and_harmony),
      cmocka_unit_test(a_file_measures_as_its_samples_do),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
