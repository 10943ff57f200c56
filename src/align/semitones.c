// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/semitones.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/audio.h"

/// Half the foot of a triangle, in semitones.
static const double half_width = 0.8;
/// First bands (from CW_LOWEST_NOTE) that the middle window tells apart, and whose attacks the quick window does.
enum { MIDDLE_FIRST = 24, QUICK_FIRST = 31 };

static const double rate_hz = CW_ANALYSIS_RATE_HZ;

static double note_hz(double note)
{
  return 440.0 * exp2((note - 69.0) / 12.0);
}

/// The weights of one band into `weight` (when not NULL). @return How many there are, at least 1.
static size_t triangle(double note, double bin_hz, size_t *first_bin, float *weight)
{
  const size_t low = (size_t)ceil(note_hz(note - half_width) / bin_hz);
  const size_t high = (size_t)floor(note_hz(note + half_width) / bin_hz);
  if (low > high) { // the window cannot tell this band from the next: take what is nearest
    *first_bin = (size_t)lround(note_hz(note) / bin_hz);
    if (weight) {
      weight[0] = 1.0F;
    }
    return 1;
  }
  *first_bin = low;
  for (size_t bin = low; bin <= high && weight; bin++) {
    const double distance = fabs(12.0 * log2((double)bin * bin_hz / 440.0) + 69.0 - note);
    weight[bin - low] = (float)fmax(0.0, 1.0 - distance / half_width);
  }
  return high - low + 1;
}

static void tune_bank(CwSemitoneBank *bank, double bin_hz, double cents)
{
  size_t used = 0;
  for (size_t i = 0; i < bank->n_bands; i++) {
    const double note = CW_LOWEST_NOTE + (double)(bank->first_band + i) + cents / 100.0;
    bank->offset[i] = used;
    bank->n_bins[i] = triangle(note, bin_hz, &bank->first_bin[i], bank->weight + used);
    used += bank->n_bins[i];
  }
}

static CwStatus init_bank(CwSemitoneBank *bank, size_t first_band, size_t n_bands, double bin_hz)
{
  bank->first_band = first_band;
  bank->n_bands = n_bands;
  size_t room = 0;
  for (size_t i = 0; i < n_bands; i++) {
    size_t unused = 0;
    // two more than now: how many bins a triangle covers changes a little with the tuning
    room += triangle(CW_LOWEST_NOTE + (double)(first_band + i) + 0.5, bin_hz, &unused, NULL) + 2;
  }
  bank->weight = cw_new(room, sizeof *bank->weight);
  return bank->weight ? CW_OK : CW_ERR_NO_MEM;
}

static double slow_bin_hz(const CwSemitones *bands)
{
  return rate_hz / CW_DEEP_STEP / (2.0 * (double)(bands->slow.n_bins - 1));
}

static double bin_hz_of(const CwAlignSpectrum *spectrum)
{
  return rate_hz / (2.0 * (double)(spectrum->n_bins - 1));
}

CwStatus cw_semitones_init(CwSemitones *bands)
{
  memset(bands, 0, sizeof *bands);
  const bool ok =
      !cw_align_spectrum_init(&bands->slow, 2 * CW_DEEP_REACH, 1024) &&
      !cw_align_spectrum_init(&bands->middle, 2 * CW_SEMITONES_REACH, 2 * CW_SEMITONES_REACH) &&
      !cw_align_spectrum_init(&bands->quick, CW_SEMITONES_REACH, CW_SEMITONES_REACH) &&
      !init_bank(&bands->slow_tone, 0, MIDDLE_FIRST, slow_bin_hz(bands)) &&
      !init_bank(&bands->middle_tone, MIDDLE_FIRST, CW_N_SEMITONES - MIDDLE_FIRST, bin_hz_of(&bands->middle)) &&
      !init_bank(&bands->middle_attack, 0, QUICK_FIRST, bin_hz_of(&bands->middle)) &&
      !init_bank(&bands->quick_attack, QUICK_FIRST, CW_N_SEMITONES - QUICK_FIRST, bin_hz_of(&bands->quick));
  if (!ok) {
    cw_semitones_free(bands);
    return CW_ERR_NO_MEM;
  }
  cw_semitones_tune(bands, 0);
  return CW_OK;
}

void cw_semitones_tune(CwSemitones *bands, double cents)
{
  tune_bank(&bands->slow_tone, slow_bin_hz(bands), cents);
  tune_bank(&bands->middle_tone, bin_hz_of(&bands->middle), cents);
  tune_bank(&bands->middle_attack, bin_hz_of(&bands->middle), cents);
  tune_bank(&bands->quick_attack, bin_hz_of(&bands->quick), cents);
}

static void apply(const CwSemitoneBank *bank, const float *power, float *band)
{
  for (size_t i = 0; i < bank->n_bands; i++) {
    const float *weight = bank->weight + bank->offset[i];
    const float *bin = power + bank->first_bin[i];
    float sum = 0;
    for (size_t k = 0; k < bank->n_bins[i]; k++) {
      sum += weight[k] * bin[k];
    }
    band[bank->first_band + i] = sum;
  }
}

void cw_semitones_tone(CwSemitones *bands, const float *centre, const float *slow_centre, float power[CW_N_SEMITONES])
{
  cw_align_spectrum_take(&bands->slow, slow_centre);
  cw_align_spectrum_take(&bands->middle, centre);
  apply(&bands->slow_tone, bands->slow.power, power);
  apply(&bands->middle_tone, bands->middle.power, power);
}

void cw_semitones_attack(CwSemitones *bands, const float *centre, float power[CW_N_SEMITONES])
{
  cw_align_spectrum_take(&bands->middle, centre);
  cw_align_spectrum_take(&bands->quick, centre);
  apply(&bands->middle_attack, bands->middle.power, power);
  apply(&bands->quick_attack, bands->quick.power, power);
}

void cw_semitones_free(CwSemitones *bands)
{
  cw_align_spectrum_free(&bands->slow);
  cw_align_spectrum_free(&bands->middle);
  cw_align_spectrum_free(&bands->quick);
  free(bands->slow_tone.weight);
  free(bands->middle_tone.weight);
  free(bands->middle_attack.weight);
  free(bands->quick_attack.weight);
  memset(bands, 0, sizeof *bands);
}
