// SPDX-License-Identifier: GPL-3.0-or-later
/// Bars of beats that are known.
#ifndef CW_TAPS_BARS_H
#define CW_TAPS_BARS_H

#include "countwright/beats.h"
#include "countwright/status.h"

/// Give beats their place in the bar and the metre: the most probable by accents (pulse/lanes.h), the metre changing
/// seldom.
/// @param accent By frame, in spreads; `n` of them.
/// @param metre The one metre allowed, or 0.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_taps_find_bars(const float *accent, size_t n, unsigned metre, CwBeats *beats);

#endif
