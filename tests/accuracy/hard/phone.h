// SPDX-License-Identifier: GPL-3.0-or-later
/// A badly placed phone.
#ifndef CW_TEST_HARD_PHONE_H
#define CW_TEST_HARD_PHONE_H

#include "unit/dsp/tones.h"

/// Only 300 to 3400 Hz (the band of telephony, ITU-T G.712), a hard echo, and a level that is turned up and down.
void cw_phone_take(Sound *sound);

#endif
