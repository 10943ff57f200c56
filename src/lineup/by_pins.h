// SPDX-License-Identifier: GPL-3.0-or-later
/// Times where there is no pulse to go by.
#ifndef CW_LINEUP_BY_PINS_H
#define CW_LINEUP_BY_PINS_H

#include "lineup/plan.h"

/// Times of the counts straight from pin to pin, and at the mean tempo of the pins before the first and after the last.
/// @param plan With at least one pin.
/// @param[out] time_s plan->n values.
void cw_times_by_pins(const CwPlan *plan, double *time_s);

#endif
