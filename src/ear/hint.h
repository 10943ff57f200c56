// SPDX-License-Identifier: GPL-3.0-or-later
/// How a hint is put to the network.
#ifndef CW_EAR_HINT_H
#define CW_EAR_HINT_H

#include "ear/ear.h"

/// 16 values for the period: bells of width 0.25 over its binary logarithm, 0.35 apart from -2.25; all 0 when it is not
/// known. 5 values for 2 to 6 beats in a bar: 1 for what it is.
/// @param[out] values CW_EAR_HINTS of them.
void cw_hint_values(CwEarHint hint, float *values);

#endif
