// SPDX-License-Identifier: GPL-3.0-or-later
/// What is expected of a plan in a recording before any search.
#ifndef CW_LINEUP_EXPECT_H
#define CW_LINEUP_EXPECT_H

#include "lineup/plan.h"
#include "lineup/sound.h"

/// Expected times: straight in beats, at the notes' paces, between the pins, the first sound and the last.
/// @param[out] time_s plan->n values.
void cw_expect_times(const CwPlan *plan, const CwSound *sound, double *time_s);

/// Seconds that a count of the usual pace lasts: by the pins; by what sounds after a single pin, or before it; or, if
/// there is none, if the notes fill the music. But for the pins, the notes' tempos limit it.
double cw_likely_count(const CwPlan *plan, const CwSound *sound);

/// Set the `ln_stretch` of every count that lies in a long stretch from pin to pin, or before or after all pins: a
/// recording may change its tempo. @param likely_s Seconds of a count on the whole.
void cw_expect_stretches(CwPlan *plan, const CwSound *sound, double likely_s);

#endif
