// SPDX-License-Identifier: GPL-3.0-or-later
#include "dsp/filter_bank.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

#define LOWEST_HZ 41.2 // E1
#define HIGHEST_HZ 9500.0
#define SPLIT_HZ 400.0 // below, the long transform

/// Add the triangle from `left` over `centre` to `right` (in bins), summing to 1.
static int add_band(CwFilterBank *bank, double left, double centre, double right, double centre_hz, size_t *n_weights)
{
  const unsigned first = (unsigned)ceil(left);
  const unsigned last = (unsigned)floor(right);
  CwBand *band = &bank->band[bank->n_bands];
  float *grown = cw_resize(bank->weight, *n_weights + last - first + 1, sizeof *grown);
  if (!grown) {
    return -1;
  }
  bank->weight = grown;
  *band = (CwBand){first, last - first + 1, (unsigned)*n_weights, centre_hz, 0};
  double sum = 0;
  for (unsigned bin = first; bin <= last; bin++) {
    const double height = bin <= centre ? (bin - left) / (centre - left) : (right - bin) / (right - centre);
    grown[*n_weights + bin - first] = (float)fmax(height, 1e-6);
    sum += fmax(height, 1e-6);
  }
  for (unsigned i = 0; i < band->n_bins; i++) {
    grown[*n_weights + i] /= (float)sum;
  }
  *n_weights += band->n_bins;
  const long midi = lround(69.0 + 12.0 * log2(centre_hz / 440.0));
  band->pitch_class = (unsigned)(midi % 12);
  bank->n_bands++;
  return 0;
}

static void note_ranges(CwFilterBank *bank)
{
  for (size_t i = 0; i < bank->n_bands; i++) {
    const double hz = bank->band[i].centre_hz;
    bank->low_end += hz < 250.0;
    bank->high_begin += hz < 2000.0;
    bank->chroma_begin += hz < 130.0;
    bank->chroma_end += hz < 2100.0;
  }
}

int cw_filter_bank_init(CwFilterBank *bank, double rate_hz)
{
  memset(bank, 0, sizeof *bank);
  size_t n_weights = 0;
  double last_bin = -1;
  for (double hz = LOWEST_HZ; hz < HIGHEST_HZ && bank->n_bands < CW_MAX_BANDS; hz *= exp2(1.0 / 12.0)) {
    const unsigned window = hz < SPLIT_HZ ? CW_LONG_WINDOW : CW_SHORT_WINDOW;
    const double bin_hz = rate_hz / window;
    const double centre = hz / bin_hz;
    // low down several semitones share a bin: keep bands at least one bin apart
    if (window == CW_LONG_WINDOW && round(centre) <= last_bin) {
      continue;
    }
    last_bin = window == CW_LONG_WINDOW ? round(centre) : -1;
    const double half = fmax(centre * (exp2(1.0 / 12.0) - 1.0), 1.0);
    if (add_band(bank, centre - half, centre, centre + half, hz, &n_weights) != 0) {
      cw_filter_bank_free(bank);
      return -1;
    }
    bank->n_long += window == CW_LONG_WINDOW;
  }
  note_ranges(bank);
  return 0;
}

void cw_filter_bank_apply(const CwFilterBank *bank, const float *long_bins, const float *short_bins, float *bands)
{
  for (size_t i = 0; i < bank->n_bands; i++) {
    const CwBand *band = &bank->band[i];
    const float *bins = (i < bank->n_long ? long_bins : short_bins) + band->first_bin;
    const float *weight = bank->weight + band->first_weight;
    float sum = 0;
    for (unsigned k = 0; k < band->n_bins; k++) {
      sum += bins[k] * weight[k];
    }
    bands[i] = sum;
  }
}

void cw_filter_bank_free(CwFilterBank *bank)
{
  free(bank->weight);
  memset(bank, 0, sizeof *bank);
}
