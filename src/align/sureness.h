// SPDX-License-Identifier: GPL-3.0-or-later
/// How sure each place of a time map is.
#ifndef CW_ALIGN_SURENESS_H
#define CW_ALIGN_SURENESS_H

#include "align/features.h"

/// Fill the sureness of a segment's points. The attacks about a place are held against those of b at the place itself
/// and up to half a second away: the more of them meet right there and nowhere else, the surer it is.
/// @param transpose Semitones that b is moved down by. @param late_s How much later b's attacks are found than where the
/// segment has them.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_sureness(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, double late_s,
                                  CwMapSegment *segment);

/// How sure a map is on the whole where its music is other music.
#define CW_SURE_BY_CHANCE 0.7

/// The mean sureness of a map's points; NaN when it has none.
double cw_mean_sureness(const CwTimeMap *map);

#endif
