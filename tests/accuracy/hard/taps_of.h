// SPDX-License-Identifier: GPL-3.0-or-later
/// Somebody taps along with a hard case.
#ifndef CW_TEST_HARD_TAPS_OF_H
#define CW_TEST_HARD_TAPS_OF_H

#include "accuracy/hard/play.h"
#include "countwright/taps.h"

/// A constant delay of the hand and the machine, in seconds.
#define CW_TAP_DELAY_S 0.06

/// A tap for each count, late by CW_TAP_DELAY_S on the whole, each up to 80 ms to either side of that; one in thirty is
/// missing. Release with cw_taps_free().
CwTaps cw_hard_taps(const CwHardTruth *truth);

#endif
