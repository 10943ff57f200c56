// SPDX-License-Identifier: GPL-3.0-or-later
/// Bands a semitone apart, made from the bins of two Fourier transforms: a long one where notes lie close together, a
/// short one above, where attacks are sharp.
#ifndef CW_DSP_FILTER_BANK_H
#define CW_DSP_FILTER_BANK_H

#include <stddef.h>

#define CW_LONG_WINDOW 2048
#define CW_SHORT_WINDOW 1024

/// Most bands that a bank can have.
#define CW_MAX_BANDS 112

/// A band: a triangle over bins of one of the transforms.
typedef struct {
  unsigned first_bin;
  unsigned n_bins;
  unsigned first_weight; ///< index into CwFilterBank.weight
  double centre_hz;
  unsigned pitch_class; ///< 0 is C
} CwBand;

/// The bank. Bands below `n_long` are read from the long transform.
typedef struct {
  CwBand band[CW_MAX_BANDS];
  size_t n_bands;
  size_t n_long;
  size_t low_end;      ///< first band at or above 250 Hz
  size_t high_begin;   ///< first band at or above 2 kHz
  size_t chroma_begin; ///< first band of the range folded to chroma
  size_t chroma_end;
  float *weight;
} CwFilterBank;

/// Set up for samples at `rate_hz`. @return 0, or -1 when memory ran out.
int cw_filter_bank_init(CwFilterBank *bank, double rate_hz);

/// Band magnitudes from bin magnitudes of both transforms.
void cw_filter_bank_apply(const CwFilterBank *bank, const float *long_bins, const float *short_bins, float *bands);

void cw_filter_bank_free(CwFilterBank *bank);

#endif
