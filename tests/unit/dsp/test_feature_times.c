// SPDX-License-Identifier: GPL-3.0-or-later
/// Where in time and frequency each feature looks.
#include "unit/cw_test.h"

#include "countwright/audio.h"
#include "countwright/features.h"
#include "unit/dsp/tones.h"

static const double pi = 3.14159265358979323846;

static CwFeatures measure(const Sound *sound)
{
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound->sample, sound->n, &features), CW_OK);
  return features;
}

static size_t greatest(const float *x, size_t from, size_t to)
{
  size_t best = from;
  for (size_t i = from; i < to; i++) {
    best = x[i] > x[best] ? i : best;
  }
  return best;
}

/// Frame `i` is centred on i / 100 s: with 220.5 samples to a frame, the nearest sample decides which frame it is.
static void a_single_sample_is_in_the_frame_it_is_nearest_to(void **state)
{
  (void)state;
  static const size_t frame[] = {7, 50, 99, 100, 101, 250};
  for (size_t k = 0; k < sizeof frame / sizeof frame[0]; k++) {
    const double centre = 220.5 * (double)frame[k];
    for (double away = -109; away <= 109; away += 54.5) {
      Sound sound = sound_new(3.0);
      sound.sample[lround(centre + away * 0.99)] = 1;
      CwFeatures f = measure(&sound);
      assert_int_equal(greatest(f.level_db, 0, f.n_frames), frame[k]);
      assert_near((double)f.level_db[frame[k]], -10 * log10(220.5), 0.02);
      cw_features_free(&f);
      sound_free(&sound);
    }
  }
}

/// Attack value `i` covers the time from i / 400 to (i + 1) / 400 s: 55.125 samples.
static void a_single_sample_is_in_its_attack_value(void **state)
{
  (void)state;
  for (size_t i = 10; i < 800; i += 79) {
    for (int end = 0; end < 2; end++) {
      Sound sound = sound_new(3.0);
      const size_t at = end ? (size_t)ceil(55.125 * (double)(i + 1)) - 2 : (size_t)ceil(55.125 * (double)i);
      sound.sample[at] = 1;
      CwFeatures f = measure(&sound);
      assert_int_equal(greatest(f.attack, 0, f.n_attack), i);
      cw_features_free(&f);
      sound_free(&sound);
    }
  }
}

static void the_attack_envelope_is_bright(void **state)
{
  (void)state;
  Sound sound = sound_new(2.0);
  add_tone(&sound, 100.0, 0.5, 0.0, 1.0);
  add_tone(&sound, 4000.0, 0.5, 1.0, 2.0);
  CwFeatures f = measure(&sound);
  for (size_t i = 50; i < 350; i++) {
    assert_true(f.attack[i] < 0.1F * f.attack[i + 400]);
  }
  cw_features_free(&f);
  sound_free(&sound);
}

static void bass_and_bright_onsets_are_told_apart(void **state)
{
  (void)state;
  Sound sound = sound_new(3.0);
  add_tone(&sound, 80.0, 0.5, 0.5, 1.3);
  add_tone(&sound, 4000.0, 0.5, 1.5, 2.3);
  CwFeatures f = measure(&sound);
  const size_t low = greatest(f.onset, 30, 100);
  const size_t high = greatest(f.onset, 130, 200);
  assert_true(f.onset_low[low] > 0.2F);
  assert_true(f.onset_low[high] < 0.5F * f.onset_high[high]);
  assert_true(f.onset_high[high] > 0.2F);
  assert_true(f.onset_low[low] > 3 * f.onset_high[low]);
  cw_features_free(&f);
  sound_free(&sound);
}

static void timbre_runs_from_low_to_high(void **state)
{
  (void)state;
  Sound sound = sound_new(9.0);
  size_t last = 0;
  for (int k = 0; k < 8; k++) {
    add_tone(&sound, 55.0 * (1 << k), 0.5, k, k + 0.9);
  }
  CwFeatures f = measure(&sound);
  for (size_t k = 0; k < 8; k++) { // an octave higher each second
    const size_t column = greatest(f.timbre + (10 * k + 4) * CW_TIMBRE_BANDS, 0, CW_TIMBRE_BANDS);
    assert_true(k == 0 ? column <= 1 : column >= last);
    last = column;
  }
  assert_true(last >= CW_TIMBRE_BANDS - 3);
  cw_features_free(&f);
  sound_free(&sound);
}

static void that_a_recording_begins_is_no_attack(void **state)
{
  (void)state;
  Sound sound = sound_new(3.0);
  for (size_t i = 0; i < sound.n; i++) { // sounding from its first sample on
    sound.sample[i] = (float)(0.5 * sin(0.1 * (double)i + 1.0) + 0.3 * sin(0.31 * (double)i));
  }
  add_struck_note(&sound, 72, 0.5, 1.5, 3.0);
  CwFeatures f = measure(&sound);
  const float attack = f.onset[greatest(f.onset, 130, 170)];
  const float slow = f.onset_slow[greatest(f.onset_slow, 130, 170)];
  assert_true(f.onset[0] == 0 && f.onset_slow[0] == 0);
  assert_true(f.onset[greatest(f.onset, 0, 40)] < 0.1F * attack);
  assert_true(f.onset_slow[greatest(f.onset_slow, 0, 40)] < 0.1F * slow);
  cw_features_free(&f);
  sound_free(&sound);
}

/// Louder by a little, and smoothly, so that neither logs nor the spectrum of a jump move its middle.
static void a_swell_is_slow_onset_in_its_middle(void **state)
{
  (void)state;
  Sound sound = sound_new(10.0);
  for (size_t i = 0; i < sound.n; i++) {
    const double t = (double)i / CW_ANALYSIS_RATE_HZ;
    const double part = fmin(fmax((t - floor(t) - 0.45) / 0.1, 0.0), 1.0); // from 0.45 to 0.55 of each second
    const double loudness = 0.02 * pow(1.5, floor(t) + 0.5 - 0.5 * cos(pi * part));
    sound.sample[i] = (float)(loudness * (sin(1234.5 * t) + 0.5 * sin(2777.0 * t) + 0.3 * sin(6100.0 * t)));
  }
  CwFeatures f = measure(&sound);
  for (size_t k = 1; k < 9; k++) {
    const size_t at = 100 * k + 50;
    assert_in_range(greatest(f.onset_slow, at - 40, at + 40), at - 2, at + 2);
  }
  cw_features_free(&f);
  sound_free(&sound);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_single_sample_is_in_the_frame_it_is_nearest_to),
      cmocka_unit_test(a_single_sample_is_in_its_attack_value),
      cmocka_unit_test(the_attack_envelope_is_bright),
      cmocka_unit_test(bass_and_bright_onsets_are_told_apart),
      cmocka_unit_test(timbre_runs_from_low_to_high),
      cmocka_unit_test(that_a_recording_begins_is_no_attack),
      cmocka_unit_test(a_swell_is_slow_onset_in_its_middle),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
