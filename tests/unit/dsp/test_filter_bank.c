// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "countwright/audio.h"
#include "dsp/filter_bank.h"

static int set_up(void **state)
{
  static CwFilterBank bank;
  *state = &bank;
  return cw_filter_bank_init(&bank, CW_ANALYSIS_RATE_HZ);
}

static int tear_down(void **state)
{
  cw_filter_bank_free(*state);
  return 0;
}

static double bin_hz(const CwFilterBank *bank, size_t band)
{
  return (double)CW_ANALYSIS_RATE_HZ / (band < bank->n_long ? CW_LONG_WINDOW : CW_SHORT_WINDOW);
}

static void the_weights_of_a_band_sum_to_1(void **state)
{
  const CwFilterBank *bank = *state;
  float longer[CW_LONG_WINDOW / 2 + 1];
  float shorter[CW_SHORT_WINDOW / 2 + 1];
  float bands[CW_MAX_BANDS];
  for (size_t i = 0; i <= CW_LONG_WINDOW / 2; i++) {
    longer[i] = 3.0F;
  }
  for (size_t i = 0; i <= CW_SHORT_WINDOW / 2; i++) {
    shorter[i] = 5.0F;
  }
  cw_filter_bank_apply(bank, longer, shorter, bands);
  assert_true(bank->n_bands > 60);
  assert_in_range(bank->n_long, 1, bank->n_bands - 1);
  for (size_t i = 0; i < bank->n_bands; i++) {
    assert_near((double)bands[i], i < bank->n_long ? 3.0 : 5.0, 1e-5);
  }
}

static void bands_ascend_within_their_transform(void **state)
{
  const CwFilterBank *bank = *state;
  for (size_t i = 0; i < bank->n_bands; i++) {
    const CwBand *band = &bank->band[i];
    const size_t n_bins = (size_t)(i < bank->n_long ? CW_LONG_WINDOW : CW_SHORT_WINDOW) / 2 + 1;
    assert_true(band->n_bins >= 1);
    assert_true(band->first_bin + band->n_bins <= n_bins);
    assert_true(i == 0 || band->centre_hz > bank->band[i - 1].centre_hz);
    // the triangle stands on its centre
    assert_true(band->first_bin * bin_hz(bank, i) <= band->centre_hz);
    assert_true((band->first_bin + band->n_bins - 1) * bin_hz(bank, i) >= band->centre_hz);
  }
}

/// Most weight that any band gives to a bin of one of the transforms.
static double most_weight(const CwFilterBank *bank, bool longer, size_t bin)
{
  double most = 0;
  for (size_t i = longer ? 0 : bank->n_long; i < (longer ? bank->n_long : bank->n_bands); i++) {
    const CwBand *band = &bank->band[i];
    if (bin >= band->first_bin && bin < band->first_bin + band->n_bins) {
      most = fmax(most, (double)bank->weight[band->first_weight + bin - band->first_bin]);
    }
  }
  return most;
}

/// A sine anywhere in the range must be seen: no bin between the outermost centres may be left to the feet of triangles.
static void there_is_no_hole_between_the_bands(void **state)
{
  const CwFilterBank *bank = *state;
  const double split_hz = 0.5 * (bank->band[bank->n_long - 1].centre_hz + bank->band[bank->n_long].centre_hz);
  const double highest_hz = bank->band[bank->n_bands - 1].centre_hz;
  assert_true(bank->band[0].centre_hz < 42.0); // E of the double bass: 41.2 Hz
  assert_true(highest_hz > 8900.0);
  for (size_t bin = 4; (double)bin * bin_hz(bank, 0) < split_hz; bin++) {
    assert_true(most_weight(bank, true, bin) > 0.1);
  }
  const double short_hz = bin_hz(bank, bank->n_long);
  for (size_t bin = (size_t)ceil(split_hz / short_hz); (double)bin * short_hz < highest_hz; bin++) {
    assert_true(most_weight(bank, false, bin) > 0.01);
  }
}

/// MIDI Tuning Standard: note 69 is A, 440 Hz; twelve equal semitones to the octave; note 60 is C.
static void pitch_classes_follow_the_tuning_standard(void **state)
{
  const CwFilterBank *bank = *state;
  unsigned seen[12] = {0};
  for (size_t i = 0; i < bank->n_bands; i++) {
    const CwBand *band = &bank->band[i];
    const double octaves = log2(band->centre_hz / (440.0 * exp2(((double)band->pitch_class - 9.0) / 12.0)));
    assert_near(octaves, round(octaves), 0.01); // a tenth of a semitone
    seen[band->pitch_class] += i >= bank->chroma_begin && i < bank->chroma_end;
  }
  for (size_t i = 0; i < 12; i++) {
    assert_in_range(seen[i], 3, 5); // no class has much more bands than another
  }
}

static void the_ranges_part_at_their_frequencies(void **state)
{
  const CwFilterBank *bank = *state;
  assert_true(bank->band[bank->low_end].centre_hz >= 250.0);
  assert_true(bank->band[bank->low_end - 1].centre_hz < 250.0);
  assert_true(bank->band[bank->high_begin].centre_hz >= 2000.0);
  assert_true(bank->band[bank->high_begin - 1].centre_hz < 2000.0);
  assert_in_range(bank->chroma_begin, 2, bank->low_end);
  assert_in_range(bank->chroma_end, bank->low_end, bank->n_bands - 2);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  int result = -1;
  long n = 0;
  for (; result != 0 && n <= CW_MAX_BANDS; n++) {
    CwFilterBank bank;
    cw_fail_after(n);
    result = cw_filter_bank_init(&bank, CW_ANALYSIS_RATE_HZ);
    cw_fail_after(-1);
    assert_int_equal(bank.n_bands > 0, result == 0);
    cw_filter_bank_free(&bank);
  }
  assert_int_equal(result, 0);
  assert_true(n > 1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_weights_of_a_band_sum_to_1),
      cmocka_unit_test(bands_ascend_within_their_transform),
      cmocka_unit_test(there_is_no_hole_between_the_bands),
      cmocka_unit_test(pitch_classes_follow_the_tuning_standard),
      cmocka_unit_test(the_ranges_part_at_their_frequencies),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, set_up, tear_down);
}
