// SPDX-License-Identifier: GPL-3.0-or-later
/// Applause: many people clapping, each at a tempo of their own.
#ifndef CW_TEST_HARD_APPLAUSE_H
#define CW_TEST_HARD_APPLAUSE_H

#include "unit/dsp/tones.h"

/// Add applause from `from_s` to the end of the sound; it begins within a second and dies away over the last third.
void cw_applause_add(Sound *sound, double rms, double from_s);

#endif
