// SPDX-License-Identifier: GPL-3.0-or-later
/// How strongly each frame looks like a beat and like a downbeat: the evidence that the decoding weighs.
#ifndef CW_PULSE_ACTIVATION_H
#define CW_PULSE_ACTIVATION_H

#include "countwright/features.h"
#include "countwright/status.h"
#include "ear/ear.h"

/// Log-odds of a beat where nothing sounds, or nothing that is music.
#define CW_NO_BEAT (-4.0F)

/// Arrays of `n` frames at CW_FEATURE_RATE_HZ.
typedef struct {
  float *beat;     ///< log-odds (natural) of a beat here against none
  float *downbeat; ///< how accented a beat here would be, in any unit
  float *strength; ///< the onset strength that `beat` is made from, about 1 at a strong onset
  size_t n;
} CwActivation;

/// @param left_out Bits of CwCue.
/// @param[out] activation Release with cw_activation_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_activation_make(const CwFeatures *features, unsigned left_out, CwActivation *activation);

/// Put what the learned ear hears in place of `beat` and `downbeat`. Where nothing sounds, there is no beat as before.
/// @param heard As many frames.
void cw_activation_hear(const CwHeard *heard, CwActivation *activation);

/// Speak against beats where no notes are held: in talk, noise and applause.
void cw_activation_keep_tonal(const CwFeatures *features, CwActivation *activation);

/// Bring `downbeat` to mean 0 and spread 1 over the beats.
/// @param probability Of a beat at each frame.
void cw_activation_weigh_bars(CwActivation *activation, const float *probability);

/// Release and set to empty.
void cw_activation_free(CwActivation *activation);

#endif
