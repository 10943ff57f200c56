// SPDX-License-Identifier: GPL-3.0-or-later
/// How someone taps and when the beats are, found together.
#ifndef CW_TAPS_FIT_H
#define CW_TAPS_FIT_H

#include "countwright/status.h"
#include "taps/settle.h"

/// The delay at which taps fit the music best, before it is known which tap is which.
/// @param spread_s Standard deviation of a tap.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_taps_guess_delay(const double *tap_s, size_t n, const CwTapSight *sight, double spread_s,
                                          double *delay_s);

/// Taps pulled towards what the music shows near them: what is left of their jitter is less.
/// @param[out] pulled_s `n` times, ascending, later than the music by the delay as the taps are.
void cw_taps_pull(const double *tap_s, size_t n, const CwTapSight *sight, const CwTapHabit *habit, double *pulled_s);

/// Place events, and find delay and spread of the taps in turn with them (expectation maximisation: Dempster, Laird,
/// Rubin 1977).
/// @param event In the order of time, at least one tapped; `middle_s` is set here.
/// @param[in,out] habit A first guess; then what was found.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_taps_fit(CwTapEvent *event, size_t n, const CwTapSight *sight, CwTapHabit *habit);

#endif
