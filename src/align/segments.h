// SPDX-License-Identifier: GPL-3.0-or-later
/// From guides to the segments of a time map.
#ifndef CW_ALIGN_SEGMENTS_H
#define CW_ALIGN_SEGMENTS_H

#include "align/guide.h"

/// Fill a map's segments from the guides of its runs, in the order of b. Where one follows another with next to nothing
/// between, the place of the jump is sought anew, to a fiftieth of a second; what a guide rushes through before a
/// jump is taken off it.
/// @param map Its durations are set and it has no segments yet; on error those made so far.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_segments_make(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose,
                                       CwGuide *guide, size_t n, CwTimeMap *map);

#endif
