// SPDX-License-Identifier: GPL-3.0-or-later
/// The limiter, against libebur128's measure of true peaks where that is there.
#include "unit/cw_test.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/memory.h"
#include "practice/limiter.h"
#include "practice/meter.h"

enum { RATE = 32000, N = 4 * RATE };

static float noise(uint32_t *seed)
{
  *seed = *seed * 1664525U + 1013904223U;
  return (float)(*seed >> 8) / 8388608.0F - 1.0F;
}

/// Strokes of many heights in faint noise, and a tone whose peaks lie between samples.
static float *strokes(void)
{
  float *sample = malloc(N * sizeof *sample);
  assert_non_null(sample);
  uint32_t seed = 5;
  for (size_t i = 0; i < N; i++) {
    const double t = (double)(i % 3001) / RATE;
    const double height = 0.4 + (double)(i / 3001 % 7) * 0.5;
    sample[i] = 0.02F * noise(&seed) + (float)(height * exp(-t / 0.01) * cos(2 * 3.14159265 * 3300 * t));
    sample[i] += i > 2 * (size_t)RATE ? (float)(0.9 * sin(3.14159265 * (0.5 * (double)i + 0.25))) : 0;
  }
  return sample;
}

static double run(float *sample, double gain, double ceiling, size_t block)
{
  CwLimiter *limiter = NULL;
  assert_int_equal(cw_limiter_new(RATE, gain, ceiling, &limiter), CW_OK);
  for (size_t at = 0; at < N; at += block) {
    cw_limiter_run(limiter, sample + at, N - at < block ? N - at : block);
  }
  const double least = cw_limiter_least(limiter);
  cw_limiter_free(limiter);
  return least;
}

static void no_true_peak_is_above_the_ceiling(void **state)
{
  (void)state;
  CwMeter *meter = NULL;
  assert_int_equal(cw_meter_new(RATE, &meter), CW_OK);
  float *sample = strokes();
  const double least = run(sample, 1.5, 0.5, 4096);
  assert_true(least < 0.2);
  for (size_t i = 0; i < N; i++) {
    assert_true(fabs((double)sample[i]) <= 0.5001);
  }
  assert_int_equal(cw_meter_add(meter, sample, N), CW_OK);
  if (meter) { // a build without libebur128 has none
    assert_in_range((int)(1000 * (cw_meter_peak_dbtp(meter) + 20)), 0, (int)(1000 * (20 + 20 * log10(0.5) + 0.2)));
  }
  cw_meter_free(meter);
  free(sample);
}

static void what_is_under_the_ceiling_only_comes_later(void **state)
{
  (void)state;
  float *sample = strokes();
  float *before = strokes();
  CwLimiter *limiter = NULL;
  assert_int_equal(cw_limiter_new(RATE, 0.5, 10, &limiter), CW_OK);
  const size_t delay = cw_limiter_delay(limiter);
  cw_limiter_run(limiter, sample, N);
  assert_near(cw_limiter_least(limiter), 1, 1e-9);
  for (size_t i = 0; i < N; i++) {
    assert_near((double)sample[i], i < delay ? 0 : 0.5 * (double)before[i - delay], 1e-6);
  }
  cw_limiter_free(limiter);
  free(sample);
  free(before);
}

static void blocks_make_no_difference(void **state)
{
  (void)state;
  float *sample = strokes();
  float *other = strokes();
  run(sample, 2, 0.7, 4096);
  run(other, 2, 0.7, 37);
  assert_memory_equal(sample, other, N * sizeof *sample);
  free(sample);
  free(other);
}

/// A tone of 997 Hz at -20 dBFS, one channel, is -23 LUFS with the full scale of a sine: ITU-R BS.1770-4 gives -3.01 LUFS
/// for one at 0 dBFS.
static void the_meter_reads_the_tone_of_the_standard(void **state)
{
  (void)state;
  CwMeter *meter = NULL;
  assert_int_equal(cw_meter_new(48000, &meter), CW_OK);
  if (!meter) {
    skip();
  }
  float block[4800];
  for (int second = 0; second < 200; second++) {
    for (int i = 0; i < 4800; i++) {
      const double t = (second * 4800 + i) / 48000.0;
      block[i] = (float)(0.1 * sin(2 * 3.14159265358979 * 997 * t));
    }
    assert_int_equal(cw_meter_add(meter, block, 4800), CW_OK);
  }
  assert_near(cw_meter_lufs(meter), -23.01, 0.1);
  assert_near(cw_meter_peak_dbtp(meter), -20.0, 0.1);
  cw_meter_free(meter);
}

static void silence_has_no_level(void **state)
{
  (void)state;
  CwMeter *meter = NULL;
  const float silence[32000] = {0};
  assert_int_equal(cw_meter_new(RATE, &meter), CW_OK);
  assert_int_equal(cw_meter_add(meter, silence, 32000), CW_OK);
  assert_true(isnan(cw_meter_lufs(meter)));
  assert_true(isnan(cw_meter_peak_dbtp(meter)));
  cw_meter_free(meter);
}

static void a_failing_allocation_is_reported(void **state)
{
  (void)state;
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    CwLimiter *limiter = NULL;
    cw_fail_after(n);
    status = cw_limiter_new(RATE, 1, 1, &limiter);
    cw_fail_after(-1);
    assert_true((status == CW_OK) == (limiter != NULL));
    cw_limiter_free(limiter);
  }
  assert_int_equal(status, CW_OK);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(no_true_peak_is_above_the_ceiling),
      cmocka_unit_test(what_is_under_the_ceiling_only_comes_later),
      cmocka_unit_test(blocks_make_no_difference),
      cmocka_unit_test(the_meter_reads_the_tone_of_the_standard),
      cmocka_unit_test(silence_has_no_level),
      cmocka_unit_test(a_failing_allocation_is_reported),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
