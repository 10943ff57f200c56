// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/audio.h"
#include "dsp/band_rows.h"
#include "unit/dsp/tones.h"

static CwFilterBank bank_of_the_analysis(void)
{
  CwFilterBank bank;
  assert_int_equal(cw_filter_bank_init(&bank, CW_ANALYSIS_RATE_HZ), 0);
  return bank;
}

static void the_bank_fills_every_band_and_they_are_those_of_the_training(void **state)
{
  (void)state;
  CwFilterBank bank = bank_of_the_analysis();
  float hz[CW_MAX_BANDS] = {0};
  float merged[CW_HEARD_BANDS];
  for (size_t b = 0; b < bank.n_bands; b++) {
    hz[b] = (float)bank.band[b].centre_hz;
  }
  assert_int_equal(cw_merge_bands(&bank, hz, merged), CW_HEARD_BANDS);
  assert_near((double)merged[CW_HEARD_BANDS - 1], (double)hz[bank.n_bands - 1], 0.1 * (double)hz[bank.n_bands - 1]);
  FILE *in = fopen(CW_SOURCE "/scripts/training/bands.txt", "r");
  assert_non_null(in);
  char line[64];
  for (size_t b = 0; b < CW_HEARD_BANDS; b++) {
    assert_non_null(fgets(line, sizeof line, in));
    assert_near((double)merged[b], strtod(line, NULL), 1e-3);
  }
  assert_null(fgets(line, sizeof line, in));
  assert_int_equal(fclose(in), 0);
  cw_filter_bank_free(&bank);
}

static void a_row_weighs_three_frames_and_repeats_the_ends(void **state)
{
  (void)state;
  CwFilterBank bank = bank_of_the_analysis();
  const float level[] = {1, 2, 4, 0, 3};
  const double row_of[] = {0.75 * 1 + 0.25 * 2, 0.25 * 2 + 0.5 * 4 + 0.25 * 0, 0.25 * 0 + 0.75 * 3};
  CwBandRows rows = {0};
  unsigned char row[CW_HEARD_BANDS];
  size_t n = 0;
  for (size_t i = 0; i < 6; i++) {
    float bands[CW_MAX_BANDS];
    for (size_t b = 0; b < CW_MAX_BANDS; b++) {
      bands[b] = i < 5 ? level[i] : 0.0F;
    }
    const bool made = i < 5 ? cw_band_rows_push(&rows, &bank, bands, row) : cw_band_rows_finish(&rows, row);
    assert_int_equal(made, i % 2);
    for (size_t b = 0; made && b < CW_HEARD_BANDS; b++) {
      assert_int_equal(row[b], (int)lround(24.0 * row_of[n]));
    }
    n += made;
  }
  assert_int_equal(n, 3);
  assert_false(cw_band_rows_finish(&rows, row)); // nothing begins any more
  cw_filter_bank_free(&bank);
}

static void recordings_of_any_length_have_a_row_for_every_second_frame(void **state)
{
  (void)state;
  static const size_t n_samples[] = {0, 1, 220, 221, 441, 442, 5000, 22050, 22271, 66150};
  for (size_t i = 0; i < sizeof n_samples / sizeof n_samples[0]; i++) {
    Sound sound = sound_new(3.0);
    add_note(&sound, 60, 0.3, 0.0, 3.0);
    CwFeatures features;
    assert_int_equal(cw_features_measure(sound.sample, n_samples[i], &features), CW_OK);
    assert_int_equal(features.n_heard, (features.n_frames + 1) / 2);
    cw_features_free(&features);
    assert_null(features.heard);
    sound_free(&sound);
  }
}

static void a_tone_is_in_its_band_and_silence_is_nothing(void **state)
{
  (void)state;
  Sound sound = sound_new(4.0);
  add_tone(&sound, note_hz(69), 0.3, 1.0, 3.0); // 440 Hz
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound.sample, sound.n, &features), CW_OK);
  CwFilterBank bank = bank_of_the_analysis();
  const unsigned char *sounding = features.heard + 2 * CW_HEARD_RATE_HZ * CW_HEARD_BANDS;
  const unsigned char *silent = features.heard + CW_HEARD_RATE_HZ / 2 * CW_HEARD_BANDS;
  size_t most = 0;
  for (size_t b = 0; b < CW_HEARD_BANDS; b++) {
    most = sounding[b] > sounding[most] ? b : most;
    assert_int_equal(silent[b], 0);
    assert_true(sounding[b] <= 111); // 24 log(1 + 100)
  }
  assert_near(bank.band[most].centre_hz, 440.0, 15.0);
  assert_int_equal(sounding[most], 111); // the loudest there is
  cw_filter_bank_free(&bank);
  cw_features_free(&features);
  sound_free(&sound);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_bank_fills_every_band_and_they_are_those_of_the_training),
      cmocka_unit_test(a_row_weighs_three_frames_and_repeats_the_ends),
      cmocka_unit_test(recordings_of_any_length_have_a_row_for_every_second_frame),
      cmocka_unit_test(a_tone_is_in_its_band_and_silence_is_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
