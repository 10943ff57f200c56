// SPDX-License-Identifier: GPL-3.0-or-later
/// Bars of two or three that alternate plainly between strong and weak are halves of bars of four or six.
#ifndef CW_PULSE_JOIN_BARS_H
#define CW_PULSE_JOIN_BARS_H

#include "countwright/beats.h"
#include "pulse/activation.h"

/// Join such bars, run by run.
/// @param activation After cw_activation_weigh_bars(). @param beats Times not yet refined.
/// @param metre The one metre allowed, or 0.
void cw_join_bars(const CwActivation *activation, unsigned metre, CwBeats *beats);

#endif
