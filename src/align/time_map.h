// SPDX-License-Identifier: GPL-3.0-or-later
/// One segment of a time map.
#ifndef CW_ALIGN_TIME_MAP_H
#define CW_ALIGN_TIME_MAP_H

#include <stdbool.h>

#include "countwright/align.h"

/// Whether the segment holds a time of a.
bool cw_map_segment_holds(const CwMapSegment *segment, double a_s);

/// The time in b of a time in a; outside the segment it goes on at the pace of the segment's last two seconds there.
/// @return Seconds; NaN for a segment of fewer than two points.
double cw_map_segment_at(const CwMapSegment *segment, double a_s);

/// How sure that time is; NaN when not known. Outside, as at the end.
double cw_map_segment_sure(const CwMapSegment *segment, double a_s);

#endif
