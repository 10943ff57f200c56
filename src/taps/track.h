// SPDX-License-Identifier: GPL-3.0-or-later
/// Which tap is which: what beat or count each tap is on, which taps are double, and where taps are missing.
///
/// Each reading of the taps so far carries a Kalman filter of where the last place was and how long a beat is (Kalman
/// 1960); of many readings the most probable are kept from tap to tap (multiple hypothesis tracking: Reid 1979).
#ifndef CW_TAPS_TRACK_H
#define CW_TAPS_TRACK_H

#include <limits.h>
#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"
#include "taps/habit.h"

/// The place of a tap that is on none.
#define CW_EXTRA_TAP LONG_MIN

/// Where the notes say that taps may be, in order. Before the first place and after the last they go on alike.
typedef struct {
  size_t n;               ///< 0 when there are no notes: places then count from the first tap, a beat each
  size_t bar;             ///< places in a bar: so many taps, less one, may well come before the first place
  size_t n_needed;        ///< those after this many are within the last count: it is no wonder if they are not tapped
  const double *beats;    ///< beats before each place, ascending
  const float *accent;    ///< how accented each should be; 0 when not known
  const bool *after_hold; ///< music out of tempo may lie before it
  const double *pin_s;    ///< where each must be; NaN when free
} CwTapPlaces;

/// How the music looks at each of `n` frames; NULL where nothing is known.
typedef struct {
  const float *beat;   ///< log-odds of a beat
  const float *accent; ///< in spreads
  size_t n;
} CwTapView;

/// Find the place of each tap.
/// @param tap_s Ascending, at least one.
/// @param habit The delay is used; spread and change are found, as the most probable of a few.
/// @param[out] place n values: index of the place, which may lie before the first (negative) or after the last;
/// CW_EXTRA_TAP for a tap on none.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_taps_track(const double *tap_s, size_t n, const CwTapPlaces *places, const CwTapView *view,
                                    CwTapHabit *habit, long *place);

/// Beats before a place, which may lie outside.
double cw_tap_place_beats(const CwTapPlaces *places, long place);

#endif
