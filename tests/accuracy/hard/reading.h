// SPDX-License-Identifier: GPL-3.0-or-later
/// How music was taken where it was mistaken: in words, for whoever improves the finding of counts.
#ifndef CW_TEST_HARD_READING_H
#define CW_TEST_HARD_READING_H

#include "accuracy/hard/play.h"
#include "countwright/beats.h"
#include "countwright/count_line.h"

/// "twice as fast 0.96; metre 4; downbeat 1 late": other readings of the true beats that fit better, the metre found
/// most, and how far the downbeats lie from the true ones most often. Empty where nothing is to be said.
void cw_reading_of_beats(const CwBeats *beats, const CwHardTruth *truth, char *text, size_t size);

/// How far the ones are off: the phrases that are wrong, and the middle error in seconds and in counts.
void cw_reading_of_ones(const CwCountLine *line, const CwHardTruth *truth, char *text, size_t size);

#endif
