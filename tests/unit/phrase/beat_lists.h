// SPDX-License-Identifier: GPL-3.0-or-later
/// Lists of beats, made run by run.
#ifndef CW_TEST_BEAT_LISTS_H
#define CW_TEST_BEAT_LISTS_H

#include "countwright/beats.h"

/// Append a run of `n` steady beats in bars of `metre` (`position` is the first beat's). Release with cw_beats_free().
void add_run(CwBeats *beats, double from_s, double interval_s, size_t n, unsigned metre, unsigned position);

/// Append beats that go on from the last one, in bars of another metre.
void add_stretch(CwBeats *beats, double interval_s, size_t n, unsigned metre);

#endif
