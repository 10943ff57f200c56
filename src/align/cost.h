// SPDX-License-Identifier: GPL-3.0-or-later
/// What it costs to take a frame of one recording for a frame of the other.
#ifndef CW_ALIGN_COST_H
#define CW_ALIGN_COST_H

#include "align/frames.h"

/// `harmony_weight` times the distance of harmony and half the distance of attacks, for frame `i` of `one` and frames
/// `j` to `j + n` of `many`.
void cw_cost(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n, float harmony_weight,
             float *cost);

#endif
