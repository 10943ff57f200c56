// SPDX-License-Identifier: GPL-3.0-or-later
/// Attacks by pitch class: where the power of a semitone leaps up, folded to the twelve pitch classes.
#ifndef CW_ALIGN_ATTACKS_H
#define CW_ALIGN_ATTACKS_H

#include <stddef.h>

#include "align/semitones.h"

/// Frames by which what comes out lags behind what goes in.
#define CW_ATTACKS_LAG 26

enum { CW_ATTACKS_KEPT = 64 }; // a power of two above twice the lag

/// The last second and a bit. Zero everything but `frames` to start.
typedef struct {
  float loudness[2][CW_N_SEMITONES];           ///< of the last two frames
  float rise[CW_ATTACKS_KEPT][CW_N_SEMITONES]; ///< a ring: rise across each frame
  float highest[CW_ATTACKS_KEPT];              ///< highest rise in each frame
  size_t n;                                    ///< frames put in
} CwAttacks;

/// Put in the next frame and take out the one CW_ATTACKS_LAG before it; call it for CW_ATTACKS_LAG frames of nothing
/// after the last to get all.
/// @param attack Powers as by cw_semitones_measure(). @param reference What counts as loud.
/// @param[out] folded Attack strength by pitch class, C first; untouched while nothing comes out yet.
void cw_attacks_next(CwAttacks *attacks, const float attack[CW_N_SEMITONES], float reference, float folded[12]);

#endif
