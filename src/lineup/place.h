// SPDX-License-Identifier: GPL-3.0-or-later
/// The last of a search: counts from frames to where they are heard.
#ifndef CW_LINEUP_PLACE_H
#define CW_LINEUP_PLACE_H

#include <stdbool.h>

#include "countwright/features.h"
#include "countwright/status.h"
#include "lineup/plan.h"

/// Put counts on attacks, those before a hold's or the music's end where the tempo leads, and all where pins say.
/// @param n Counts that have a time; the plan's.
/// @param likely_s Seconds of a count where nothing tells.
/// @param on_attacks Whether to look for attacks.
/// @param[in,out] time_s `n` times. @param[out] end_s `n` times where the counts end.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_place_finely(const CwFeatures *features, const CwPlan *plan, size_t n, double likely_s,
                                      bool on_attacks, double *time_s, double *end_s);

#endif
