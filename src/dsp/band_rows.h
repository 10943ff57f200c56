// SPDX-License-Identifier: GPL-3.0-or-later
/// Compressed bands made smaller, as the learned ear hears them.
///
/// - Bands at or above 1 kHz are averaged in pairs from there (a last odd one stays alone): CW_HEARD_BANDS are left.
/// - Row k is a quarter of frame 2k - 1, half of frame 2k and a quarter of frame 2k + 1; what lies outside the recording
///   repeats its end. So there are CW_HEARD_RATE_HZ rows a second.
/// - A byte is the value times CW_HEARD_SCALE, rounded: 0 ... 111.
#ifndef CW_DSP_BAND_ROWS_H
#define CW_DSP_BAND_ROWS_H

#include <stdbool.h>

#include "countwright/features.h"
#include "dsp/filter_bank.h"

/// The frames of one recording that the next row still needs. Zero it before use.
typedef struct {
  float before[CW_HEARD_BANDS];
  float here[CW_HEARD_BANDS];
  size_t n; ///< frames so far
} CwBandRows;

/// Bands in pairs. @param[out] merged CW_HEARD_BANDS values; those that the bank does not fill are 0.
/// @return How many the bank fills.
size_t cw_merge_bands(const CwFilterBank *bank, const float *bands, float *merged);

/// Add the next frame. @param bands Compressed. @param[out] row CW_HEARD_BANDS bytes.
/// @return Whether it completes a row.
bool cw_band_rows_push(CwBandRows *rows, const CwFilterBank *bank, const float *bands, unsigned char *row);

/// After the last frame. @return Whether one more row begins with it.
bool cw_band_rows_finish(CwBandRows *rows, unsigned char *row);

#endif
