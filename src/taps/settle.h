// SPDX-License-Identifier: GPL-3.0-or-later
/// When each beat or count is, given about where it was tapped: the probability of each of its frames, by the tap, by
/// how the music looks there and by a tempo that changes little. Forward and backward sums over a chain whose state is
/// the frames of two neighbours, so that the tempo is exact.
#ifndef CW_TAPS_SETTLE_H
#define CW_TAPS_SETTLE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"
#include "taps/habit.h"

/// A beat or count to be placed.
typedef struct {
  double beats;    ///< from the one before it
  double middle_s; ///< it is looked for around here; NaN: as far from its neighbours as its beats say
  double tap_s;    ///< NaN when not tapped
  double pin_s;    ///< where it must be; NaN when free
  bool on_beat;    ///< it falls on a beat, not between two
  bool broken;     ///< music out of tempo may lie before it
  double time_s;   ///< found: the time that is most probably within 70 ms of the truth
  double mean_s;   ///< found: expected time
  double var;      ///< found: its variance
  float sure;      ///< found: probability that it is within 70 ms of `time_s`
} CwTapEvent;

/// How the music looks.
typedef struct {
  const float *beat; ///< log-odds of a beat at each frame
  size_t n;
} CwTapSight;

/// Place events.
/// @param step Frames put together: 1, or more for a quicker, rougher answer.
/// @param reach_s How far on each side of its middle an event is looked for.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_taps_settle(CwTapEvent *event, size_t n, const CwTapSight *sight, const CwTapHabit *habit,
                                     size_t step, double reach_s);

#endif
