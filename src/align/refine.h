// SPDX-License-Identifier: GPL-3.0-or-later
/// From a rough guide to a fine one.
#ifndef CW_ALIGN_REFINE_H
#define CW_ALIGN_REFINE_H

#include "align/guide.h"

/// Warp again at fifty frames a second, with b straightened along the guide, so that the path differs from the diagonal
/// only where the guide is wrong. Done stretch by stretch: memory does not grow with the run.
/// @param transpose Semitones that b is moved down by. @param reach Frames to either side that the guide may be wrong
/// by. @param stiffness Of the new guide; see cw_curve_fit().
/// @return CW_OK or CW_ERR_NO_MEM (then the guide is as it was).
CW_NODISCARD CwStatus cw_refine_by_warping(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose,
                                           size_t reach, double stiffness, CwGuide *guide);

/// Move the guide so that attacks of the same semitone meet, to a fraction of a frame.
/// @param reach_s How far apart attacks may be by the guide. @return As above.
CW_NODISCARD CwStatus cw_refine_by_attacks(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose,
                                           double reach_s, double stiffness, CwGuide *guide);

#endif
