// SPDX-License-Identifier: GPL-3.0-or-later
/// Features laid out as frames, and how like one frame is to many.
#ifndef CW_ALIGN_FRAMES_H
#define CW_ALIGN_FRAMES_H

#include <stddef.h>

#include "align/features.h"

/// Planar: 12 rows of chroma (C first) and CW_N_SEMITONES rows of attacks, `n` frames each, so that one frame is
/// compared with many at once.
typedef struct {
  size_t n;
  float *chroma; ///< each frame less its mean and of length 1, or all zero where all twelve are alike
  float *attack; ///< strength at the attack, fading after it
} CwFrames;

/// How long attacks fade, in seconds, in frames that are searched or warped first.
#define CW_FADE_S 0.2

/// Frames of the features to one of a search of all of a in all of b: five a second; fewer for recordings so long that it
/// would take too long.
size_t cw_search_step(const CwAlignFeatures *a, const CwAlignFeatures *b);

/// Lay out a whole recording at even steps.
/// @param step Frames of the features from one to the next. @param width Chroma is a Hann-weighted mean over this many
/// steps to either side. @param transpose Semitones that everything is moved down by. @param fade_s How long an attack
/// fades.
/// @param[out] frames Release with cw_frames_free(); empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_frames_thin(const CwAlignFeatures *features, size_t step, size_t width, int transpose,
                                     double fade_s, CwFrames *frames);

/// Lay out the frames at given times.
/// @param time_s `n` times, ascending strictly, at least two; where the recording is not, frames are empty.
/// @param fade_frames How long an attack fades, in these frames.
/// @param[out] frames As above. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_frames_at(const CwAlignFeatures *features, const double *time_s, size_t n, int transpose,
                                   double fade_frames, CwFrames *frames);

/// Release and set to empty.
void cw_frames_free(CwFrames *frames);

/// The likeness (correlation, -1 to 1) of the chroma of frame `i` of `one` to those of frames `j` to `j + n` of `many`.
void cw_frames_likeness(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n, float *likeness);

/// The distance (0 to about 1.4) of attacks, likewise.
void cw_frames_attack_distance(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n,
                               float *distance);

/// How much two frames have of the same attacks: the sum of the products.
float cw_frames_attacks_shared(const CwFrames *one, size_t i, const CwFrames *other, size_t j);

#endif
