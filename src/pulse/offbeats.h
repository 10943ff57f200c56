// SPDX-License-Identifier: GPL-3.0-or-later
/// Onsets between beats: they belong to the beat before them and are no sign that the pulse is twice as fast.
#ifndef CW_PULSE_OFFBEATS_H
#define CW_PULSE_OFFBEATS_H

#include <math.h>
#include <stddef.h>

/// What onsets at the half or at the thirds of the interval of `frames` that ends at frame `t` are worth.
static inline float cw_offbeats(const float *beat, size_t t, size_t frames, float half_weight, float thirds_weight)
{
  const float half = half_weight * beat[t - frames / 2];
  const float thirds = thirds_weight * 0.5F * (beat[t - frames / 3] + beat[t - 2 * frames / 3]);
  return fmaxf(0.0F, fmaxf(half, thirds));
}

#endif
