// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "dsp/spectrum.h"
#include "unit/random.h"

static const double pi = 3.14159265358979323846;

static CwSpectrum *new_spectrum(void)
{
  CwSpectrum *spectrum = NULL;
  assert_int_equal(cw_spectrum_new(&spectrum), CW_OK);
  return spectrum;
}

/// A sine of amplitude 1 with `cycles` cycles in the long window.
static void fill_with_sine(float *samples, double cycles, double phase)
{
  for (size_t i = 0; i < CW_LONG_WINDOW; i++) {
    samples[i] = (float)sin(2 * pi * cycles * (double)i / CW_LONG_WINDOW + phase);
  }
}

static void a_sine_of_amplitude_1_gives_1_in_both_transforms(void **state)
{
  (void)state;
  CwSpectrum *spectrum = new_spectrum();
  for (unsigned cycles = 8; cycles < 1000; cycles += 62) {
    float samples[CW_LONG_WINDOW];
    const float *longer = NULL;
    const float *shorter = NULL;
    fill_with_sine(samples, cycles, 0.3 * cycles);
    cw_spectrum_measure(spectrum, samples, &longer, &shorter);
    assert_near((double)longer[cycles], 1.0, 1e-4);
    assert_near((double)shorter[cycles / 2], 1.0, 1e-4);
    // a Hann window spreads a sine over its two neighbours at half its height, and no farther
    assert_near((double)longer[cycles - 1], 0.5, 1e-4);
    assert_near((double)longer[cycles + 1], 0.5, 1e-4);
    assert_near((double)longer[cycles + 2], 0.0, 1e-4);
    assert_near((double)shorter[cycles / 2 + 2], 0.0, 1e-4);
  }
  cw_spectrum_free(spectrum);
}

/// Scallop loss of the Hann window: 1.42 dB (F. J. Harris, On the use of windows for harmonic analysis with the discrete
/// Fourier transform, Proc. IEEE 66, 1978, table I; from memory, and 8 / (3 pi) by calculation).
static void a_sine_between_two_bins_loses_what_the_literature_says(void **state)
{
  (void)state;
  CwSpectrum *spectrum = new_spectrum();
  float samples[CW_LONG_WINDOW];
  const float *longer = NULL;
  const float *shorter = NULL;
  fill_with_sine(samples, 200.5, 1.0);
  cw_spectrum_measure(spectrum, samples, &longer, &shorter);
  assert_near(20 * log10((double)longer[200]), -1.42, 0.005);
  assert_near(20 * log10((double)longer[201]), -1.42, 0.005);
  fill_with_sine(samples, 201, 1.0);
  cw_spectrum_measure(spectrum, samples, &longer, &shorter);
  assert_near(20 * log10((double)shorter[100]), -1.42, 0.005);
  cw_spectrum_free(spectrum);
}

/// Magnitude of one bin by the definition of the transform, scaled so that a sine of amplitude 1 gives 1.
static double plain_bin(const float *samples, size_t size, size_t bin)
{
  double re = 0;
  double im = 0;
  double gain = 0;
  for (size_t i = 0; i < size; i++) {
    const double window = pow(sin(pi * (double)i / (double)size), 2);
    const double turn = 2 * pi * (double)(i * bin % size) / (double)size;
    re += window * (double)samples[i] * cos(turn);
    im -= window * (double)samples[i] * sin(turn);
    gain += window;
  }
  return 2 * hypot(re, im) / gain;
}

static void every_bin_is_what_a_plain_transform_gives(void **state)
{
  (void)state;
  CwSpectrum *spectrum = new_spectrum();
  float samples[CW_LONG_WINDOW];
  const float *longer = NULL;
  const float *shorter = NULL;
  uint64_t seed = 1;
  for (size_t i = 0; i < CW_LONG_WINDOW; i++) {
    samples[i] = (float)random_between(&seed, -1, 1);
  }
  cw_spectrum_measure(spectrum, samples, &longer, &shorter);
  for (size_t bin = 0; bin <= CW_LONG_WINDOW / 2; bin++) {
    assert_near((double)longer[bin], plain_bin(samples, CW_LONG_WINDOW, bin), 1e-6);
  }
  const float *middle = samples + (CW_LONG_WINDOW - CW_SHORT_WINDOW) / 2;
  for (size_t bin = 0; bin <= CW_SHORT_WINDOW / 2; bin++) {
    assert_near((double)shorter[bin], plain_bin(middle, CW_SHORT_WINDOW, bin), 1e-6);
  }
  cw_spectrum_free(spectrum);
}

static void both_windows_have_one_centre(void **state)
{
  (void)state;
  CwSpectrum *spectrum = new_spectrum();
  const float *longer = NULL;
  const float *shorter = NULL;
  float samples[CW_LONG_WINDOW] = {0};
  samples[CW_LONG_WINDOW / 2] = 1;
  cw_spectrum_measure(spectrum, samples, &longer, &shorter);
  // the window is 1 there; 4 / size is what makes a sine of amplitude 1 give 1
  assert_near((double)longer[100], 4.0 / CW_LONG_WINDOW, 1e-6);
  assert_near((double)shorter[100], 4.0 / CW_SHORT_WINDOW, 1e-6);
  samples[CW_LONG_WINDOW / 2] = 0;
  samples[CW_LONG_WINDOW / 2 - CW_SHORT_WINDOW / 2] = 1; // where the short window begins
  cw_spectrum_measure(spectrum, samples, &longer, &shorter);
  assert_near((double)longer[100], 2.0 / CW_LONG_WINDOW, 1e-6);
  assert_near((double)shorter[100], 0, 1e-9);
  cw_spectrum_free(spectrum);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 100; n++) {
    CwSpectrum *spectrum = NULL;
    cw_fail_after(n);
    status = cw_spectrum_new(&spectrum);
    cw_fail_after(-1);
    assert_int_equal(spectrum != NULL, status == CW_OK);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    cw_spectrum_free(spectrum);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 1);
  cw_spectrum_free(NULL);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_sine_of_amplitude_1_gives_1_in_both_transforms),
      cmocka_unit_test(a_sine_between_two_bins_loses_what_the_literature_says),
      cmocka_unit_test(every_bin_is_what_a_plain_transform_gives),
      cmocka_unit_test(both_windows_have_one_centre),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
