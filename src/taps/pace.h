// SPDX-License-Identifier: GPL-3.0-or-later
/// The pace of taps, as a hint for the ear.
#ifndef CW_TAPS_PACE_H
#define CW_TAPS_PACE_H

#include <stddef.h>

#include "ear/ear.h"

/// Middle one of `n` values, which are put in order; 0 when there are none.
double cw_taps_middle(double *value, size_t n);

/// Fill in how long beats are about each row, from the median of the intervals of the taps near by.
/// @param tap_s `n_taps` taps, two or more, ascending. @param beats Beats from a tap to the next.
/// @param metre Beats in a bar; 0 when not known.
/// @param[out] hint `rows` of them, CW_HEARD_RATE_HZ a second.
void cw_taps_hint(const double *tap_s, size_t n_taps, double beats, unsigned metre, CwEarHint *hint, size_t rows);

#endif
