// SPDX-License-Identifier: GPL-3.0-or-later
/// Beats placed finely: from a frame of 10 ms to the attack nearby.
#ifndef CW_PULSE_REFINE_H
#define CW_PULSE_REFINE_H

#include <stddef.h>

#include "countwright/features.h"

/// The time of the clearest attack within 50 ms of `time_s`, or `time_s` itself where no attack stands out.
double cw_refine_time(const CwFeatures *features, double time_s);

#endif
