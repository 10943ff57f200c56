// SPDX-License-Identifier: GPL-3.0-or-later
/// The notebook that a dancer would have written to a hard case.
#ifndef CW_TEST_HARD_NOTES_OF_H
#define CW_TEST_HARD_NOTES_OF_H

#include "accuracy/hard/play.h"

/// Metre, beats per count, a line for each phrase, a line for each hold between phrases. Release with free().
/// @param n_pins 0: none; 1: the first one is pinned; 2: and the one of the phrase in the middle.
char *cw_hard_notes(const CwHardCase *hard, const CwHardTruth *truth, unsigned n_pins);

#endif
