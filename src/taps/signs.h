// SPDX-License-Identifier: GPL-3.0-or-later
/// What the music says of taps: whether a beat is where one was tapped, and where one may have been missed.
#ifndef CW_TAPS_SIGNS_H
#define CW_TAPS_SIGNS_H

#include <stddef.h>

#include "countwright/status.h"

/// How the music looks at each of `n` frames; NULL where nothing is known.
typedef struct {
  const float *beat;   ///< log-odds of a beat
  const float *accent; ///< in spreads
  size_t n;
} CwTapView;

/// Signs by frame. Release with cw_tap_signs_free().
typedef struct {
  float *beat;   ///< log of how much more likely a beat is about here than anywhere; NULL where nothing is known
  float *accent; ///< of the likeliest beat about here; NULL where nothing is known
  size_t n;
} CwTapSigns;

/// @param[out] signs Empty on error, and where nothing is known.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_tap_signs_make(const CwTapView *view, CwTapSigns *signs);

/// Sign of a beat about a time; 0 where nothing is known.
double cw_tap_sign_of_beat(const CwTapSigns *signs, double time_s);

/// Accent about a time; NaN where nothing is known.
double cw_tap_sign_of_accent(const CwTapSigns *signs, double time_s);

/// Release and set to empty.
void cw_tap_signs_free(CwTapSigns *signs);

#endif
