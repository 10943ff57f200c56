// SPDX-License-Identifier: GPL-3.0-or-later
/// How strongly each frame looks like a beat and like a downbeat: the evidence that the decoding weighs.
#ifndef CW_PULSE_ACTIVATION_H
#define CW_PULSE_ACTIVATION_H

#include "countwright/features.h"
#include "countwright/status.h"

/// Log-odds in natural units: positive speaks for a beat. Arrays of `n` frames at CW_FEATURE_RATE_HZ.
typedef struct {
  float *beat;     ///< a beat here, against none
  float *downbeat; ///< if there is a beat: it is the first of a bar, against another
  float *strength; ///< the onset strength that `beat` is made from, about 1 at a strong onset
  size_t n;
} CwActivation;

/// @param[out] activation Release with cw_activation_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_activation_make(const CwFeatures *features, CwActivation *activation);

/// Speak against beats where no notes are held: in talk, noise and applause.
void cw_activation_keep_tonal(const CwFeatures *features, CwActivation *activation);

/// Release and set to empty.
void cw_activation_free(CwActivation *activation);

#endif
