// SPDX-License-Identifier: GPL-3.0-or-later
/// Where there is no pulse, no beat may be found.
#include <math.h>
#include <stdlib.h>

#include "accuracy/clicks.h"
#include "countwright/audio.h"
#include "countwright/beats.h"
#include "unit/cw_test.h"

enum { N_SAMPLES = 25 * CW_ANALYSIS_RATE_HZ };

static void expect_no_pulse(const CwFeatures *features)
{
  CwBeats beats = {0};
  CwStatus status = cw_beats_find(features, NULL, NULL, &beats);
  if (status == CW_OK)
    print_error("%zu beats found, the first at %.2f s, confidence %.2f\n", beats.n, beats.beat[0].time_s,
                (double)beats.beat[0].confidence);
  assert_int_equal(beats.n, 0);
  assert_int_equal(status, CW_ERR_NO_PULSE);
  cw_beats_free(&beats);
}

static void expect_no_pulse_in_noise(double rms, bool pink)
{
  float *sample = calloc(N_SAMPLES, sizeof *sample);
  assert_non_null(sample);
  cw_noise_add(sample, N_SAMPLES, rms, pink);
  CwFeatures features = {0};
  assert_int_equal(cw_features_measure(sample, N_SAMPLES, &features), CW_OK);
  expect_no_pulse(&features);
  cw_features_free(&features);
  free(sample);
}

static void silence_has_no_pulse(void **state)
{
  (void)state;
  expect_no_pulse_in_noise(0, false);
}

static void pink_noise_has_no_pulse(void **state)
{
  (void)state;
  expect_no_pulse_in_noise(0.1, true);
}

static void white_noise_has_no_pulse(void **state)
{
  (void)state;
  expect_no_pulse_in_noise(0.05, false);
}

static void the_hiss_of_an_old_tape_has_no_pulse(void **state)
{
  (void)state;
  expect_no_pulse_in_noise(0.0005, true);
}

/// Notes are held, but nothing ever begins.
static void a_chord_held_throughout_has_no_pulse(void **state)
{
  (void)state;
  float *sample = calloc(N_SAMPLES, sizeof *sample);
  assert_non_null(sample);
  for (size_t i = 0; i < N_SAMPLES; i++)
    for (int partial = 2; partial < 7; partial++)
      sample[i] += 0.05F * (float)sin(6.283185307179586 * 110.0 * partial * (double)i / CW_ANALYSIS_RATE_HZ);
  CwFeatures features = {0};
  assert_int_equal(cw_features_measure(sample, N_SAMPLES, &features), CW_OK);
  expect_no_pulse(&features);
  cw_features_free(&features);
  free(sample);
}

static void talk_has_no_pulse(void **state)
{
  (void)state;
  CwFeatures features = {0};
  assert_int_equal(cw_features_read(CW_FIXTURES "/speech.ogg", NULL, &features), CW_OK);
  expect_no_pulse(&features);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(silence_has_no_pulse),     cmocka_unit_test(pink_noise_has_no_pulse),
      cmocka_unit_test(white_noise_has_no_pulse), cmocka_unit_test(the_hiss_of_an_old_tape_has_no_pulse),
      cmocka_unit_test(talk_has_no_pulse),        cmocka_unit_test(a_chord_held_throughout_has_no_pulse),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
