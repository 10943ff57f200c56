// SPDX-License-Identifier: GPL-3.0-or-later
/// Features of anything at all: how many there are, that they keep within their bounds, and a full memory.
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "countwright/features.h"
#include "unit/dsp/tones.h"

static CwFeatures measure(const float *sample, size_t n)
{
  CwFeatures features;
  memset(&features, 0x55, sizeof features);
  assert_int_equal(cw_features_measure(sample, n, &features), CW_OK);
  return features;
}

static void assert_within(const float *x, size_t n, float least, float most)
{
  for (size_t i = 0; i < n; i++) {
    assert_true(x[i] >= least && x[i] <= most); // false for what is no number
  }
}

/// What the header promises of every recording.
static void assert_good(const CwFeatures *f)
{
  const float any = 1e9F;
  assert_within(f->onset, f->n_frames, 0, any);
  assert_within(f->onset_slow, f->n_frames, 0, any);
  assert_within(f->onset_low, f->n_frames, 0, any);
  assert_within(f->onset_high, f->n_frames, 0, any);
  assert_within(f->harmonic, f->n_frames, 0, 1);
  assert_within(f->bass_change, f->n_frames, 0, 1);
  assert_within(f->level_db, f->n_frames, -120, any);
  assert_within(f->attack, f->n_attack, 0, any);
  assert_within(f->chroma, 12 * f->n_slow, 0, 1.0001F);
  assert_within(f->timbre, CW_TIMBRE_BANDS * f->n_slow, 0, any);
  assert_within(f->steadiness, f->n_slow, 0, 1);
  for (size_t i = 0; i < f->n_slow; i++) {
    double square = 0;
    for (size_t k = 0; k < 12; k++) {
      square += (double)f->chroma[12 * i + k] * (double)f->chroma[12 * i + k];
    }
    assert_true(square == 0 || fabs(square - 1.0) < 1e-5);
  }
}

static void there_are_100_frames_and_400_attack_values_a_second(void **state)
{
  (void)state;
  static const size_t length[] = {220,   221,   441,   1023,  1024,  1025,   2047,   2048,  2049,
                                  22049, 22050, 22051, 32767, 32768, 100000, 220500, 300001};
  Sound sound = sound_new(15.0);
  add_noise(&sound, 0.1);
  for (size_t i = 0; i < sizeof length / sizeof length[0]; i++) {
    const size_t n = length[i];
    CwFeatures f = measure(sound.sample, n);
    assert_int_equal(f.n_frames, n * CW_FEATURE_RATE_HZ / CW_ANALYSIS_RATE_HZ);
    assert_int_equal(f.n_attack, n * CW_ATTACK_RATE_HZ / CW_ANALYSIS_RATE_HZ);
    assert_in_range(f.n_slow, f.n_frames / CW_SLOW_STEP, f.n_frames / CW_SLOW_STEP + 1);
    assert_near(f.duration_s, (double)n / CW_ANALYSIS_RATE_HZ, 1e-12);
    assert_good(&f);
    cw_features_free(&f);
  }
  sound_free(&sound);
}

static void nothing_and_next_to_nothing_have_no_frames(void **state)
{
  (void)state;
  const float sample[3] = {1, -1, 1};
  for (size_t n = 0; n <= 3; n++) {
    CwFeatures f = measure(n == 0 ? NULL : sample, n);
    assert_int_equal(f.n_frames, 0);
    assert_near(f.duration_s, (double)n / CW_ANALYSIS_RATE_HZ, 1e-12);
    cw_features_free(&f);
    assert_null(f.onset);
  }
  cw_features_free(NULL);
}

static void constant_sound_has_no_onsets(void **state)
{
  (void)state;
  Sound sound = sound_new(4.0);
  for (int kind = 0; kind < 3; kind++) {
    for (size_t i = 0; i < sound.n; i++) {
      // silence, a constant, a square wave of 220.5 Hz at full scale
      sound.sample[i] = kind == 0 ? 0.0F : kind == 1 ? 0.9F : i / 50 % 2 ? 1.0F : -1.0F;
    }
    CwFeatures f = measure(sound.sample, sound.n);
    assert_good(&f);
    for (size_t i = 20; i < f.n_frames - 20; i++) {
      assert_near((double)f.onset[i], 0, 0.01);
      assert_near((double)f.onset_slow[i], 0, 0.01);
    }
    for (size_t i = 60; i < f.n_frames - 60; i++) {
      assert_near((double)f.harmonic[i], 0, 0.01);
      assert_near((double)f.bass_change[i], 0, 0.01);
    }
    cw_features_free(&f);
  }
  sound_free(&sound);
}

static void silence_has_no_harmony(void **state)
{
  (void)state;
  Sound sound = sound_new(3.0);
  CwFeatures f = measure(sound.sample, sound.n);
  assert_within(f.chroma, 12 * f.n_slow, 0, 0);
  assert_within(f.timbre, CW_TIMBRE_BANDS * f.n_slow, 0, 0);
  assert_within(f.steadiness, f.n_slow, 0, 0);
  assert_within(f.level_db, f.n_frames, -120, -120);
  assert_within(f.attack, f.n_attack, 0, 0);
  cw_features_free(&f);
  sound_free(&sound);
}

static void extremes_keep_within_the_bounds(void **state)
{
  (void)state;
  static const float scale[] = {1e-30F, 1e-6F, 1.0F, 100.0F};
  for (size_t k = 0; k < sizeof scale / sizeof scale[0]; k++) {
    Sound sound = sound_new(2.0);
    add_noise(&sound, 1.0);
    add_click(&sound, 1.0, 1.0);
    for (size_t i = 0; i < sound.n; i++) {
      sound.sample[i] *= i < sound.n / 2 ? scale[k] : -scale[k] / 7;
    }
    CwFeatures f = measure(sound.sample, sound.n);
    assert_good(&f);
    cw_features_free(&f);
    sound_free(&sound);
  }
}

/// Long enough that every array grows more than once.
static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  Sound sound = sound_new(62.0);
  add_tone(&sound, 300.0, 0.1, 1.0, 61.0);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 1000; n++) {
    CwFeatures f;
    memset(&f, 0x55, sizeof f);
    // the filter bank allocates once a band; its own test fails each of them
    cw_fail_after(n < 20 ? n : 60 + n);
    status = cw_features_measure(sound.sample, sound.n, &f);
    cw_fail_after(-1);
    if (status != CW_OK) {
      assert_int_equal(status, CW_ERR_NO_MEM);
      assert_null(f.onset);
      assert_null(f.attack);
      assert_int_equal(f.n_frames, 0);
    }
    cw_features_free(&f);
  }
  assert_int_equal(status, CW_OK);
  sound_free(&sound);
}

static void a_missing_file_is_told(void **state)
{
  (void)state;
  CwFeatures f;
  memset(&f, 0x55, sizeof f);
  assert_int_equal(cw_features_read("no/such/recording.wav", NULL, &f), CW_ERR_NOT_FOUND);
  assert_null(f.onset);
  assert_int_equal(f.n_frames, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(there_are_100_frames_and_400_attack_values_a_second),
      cmocka_unit_test(nothing_and_next_to_nothing_have_no_frames),
      cmocka_unit_test(constant_sound_has_no_onsets),
      cmocka_unit_test(silence_has_no_harmony),
      cmocka_unit_test(extremes_keep_within_the_bounds),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
      cmocka_unit_test(a_missing_file_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
