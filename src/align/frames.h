// SPDX-License-Identifier: GPL-3.0-or-later
/// Features at a lower rate, and how like one frame is to many.
#ifndef CW_ALIGN_FRAMES_H
#define CW_ALIGN_FRAMES_H

#include <stddef.h>

#include "align/features.h"

/// Planar, as in CwAlignFeatures: 12 rows of `n` frames.
typedef struct {
  size_t n;
  double rate_hz;
  float *chroma; ///< each frame less its mean and of length 1
  float *onset;
} CwFrames;

/// Thin out to every `step`th frame. Chroma is a Hann-weighted mean over `width` steps to either side, moved down by
/// `transpose` semitones; attacks are the highest within the step.
/// @param[out] frames Release with cw_frames_free(); empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_frames_make(const CwAlignFeatures *features, size_t step, size_t width, int transpose,
                                     CwFrames *frames);

/// Release and set to empty.
void cw_frames_free(CwFrames *frames);

/// The likeness (correlation, -1 to 1) of the chroma of frame `i` of `one` to those of frames `j` to `j + n` of `many`.
void cw_frames_likeness(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n, float *likeness);

/// The distance (0 to about 1.4) of attacks, likewise.
void cw_frames_attack_distance(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n,
                               float *distance);

#endif
