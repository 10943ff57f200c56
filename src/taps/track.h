// SPDX-License-Identifier: GPL-3.0-or-later
/// Which tap is which: what beat or count each tap is on, which taps are double, and where taps are missing.
///
/// Of many readings of the taps so far (taps/reading.h) the most probable are kept from tap to tap (multiple hypothesis
/// tracking: Reid 1979).
#ifndef CW_TAPS_TRACK_H
#define CW_TAPS_TRACK_H

#include <limits.h>
#include <stddef.h>

#include "countwright/status.h"
#include "taps/habit.h"
#include "taps/places.h"
#include "taps/signs.h"

/// The place of a tap that is on none.
#define CW_EXTRA_TAP LONG_MIN

/// Find the place of each tap.
/// @param tap_s Ascending, at least one.
/// @param habit The delay is used; spread and change are found, as the most probable of a few.
/// @param[out] place n values: index of the place, which may lie before the first (negative) or after the last;
/// CW_EXTRA_TAP for a tap on none.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_taps_track(const double *tap_s, size_t n, const CwTapPlaces *places, const CwTapSigns *signs,
                                    CwTapHabit *habit, long *place);

#endif
