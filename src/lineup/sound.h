// SPDX-License-Identifier: GPL-3.0-or-later
/// Where in a recording something sounds that may be music.
#ifndef CW_LINEUP_SOUND_H
#define CW_LINEUP_SOUND_H

#include <stddef.h>

#include "countwright/features.h"
#include "countwright/status.h"
#include "pulse/activation.h"

/// The sound of a recording. Release with cw_sound_free().
typedef struct {
  double *before_s; ///< n + 1 values: seconds of sound before each frame, and in all
  size_t n;         ///< frames at CW_FEATURE_RATE_HZ
} CwSound;

/// @param[out] sound Empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_sound_measure(const CwFeatures *features, const CwActivation *activation, CwSound *sound);

/// When the first sound begins and the last one ends, in seconds.
double cw_sound_begin(const CwSound *sound);
double cw_sound_end(const CwSound *sound);

/// Seconds of sound between two times.
double cw_sound_between(const CwSound *sound, double from_s, double to_s);

/// Share of the recording's sound in which notes are held.
double cw_tonal_share(const CwFeatures *features);

/// Release and set to empty.
void cw_sound_free(CwSound *sound);

#endif
