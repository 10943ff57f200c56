// SPDX-License-Identifier: GPL-3.0-or-later
/// Times of a plan's counts where someone tapped along.
#ifndef CW_LINEUP_TAPPED_H
#define CW_LINEUP_TAPPED_H

#include "countwright/taps.h"
#include "lineup/plan.h"
#include "pulse/look.h"

/// Find the times of the counts that were tapped, and of those between and close by.
/// @param tap_s Taps within the recording, ascending. @param on What was tapped; CW_TAPS_ON_ANY to find out.
/// @param begin_s Where the music begins; NaN when not known.
/// @param[out] time_s plan->n values; NaN far from any tap.
/// @param[out] sure plan->n values: probability that the time is right within 70 ms.
/// @return CW_OK, CW_ERR_NO_PULSE (too few taps) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_plan_by_taps(const CwPlan *plan, const double *tap_s, size_t n_taps, CwTapsOn on,
                                      const CwLook *look, double begin_s, double *time_s, float *sure,
                                      CwTapsFound *found);

/// Beats from a tap to the next, on the whole.
double cw_beats_of_a_tap(const CwPlan *plan, size_t n_taps, CwTapsOn on);

#endif
