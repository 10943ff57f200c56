// SPDX-License-Identifier: GPL-3.0-or-later
/// How music was taken where it was mistaken: in words, for whoever improves the finding of counts.
#ifndef CW_TEST_HARD_READING_H
#define CW_TEST_HARD_READING_H

#include "accuracy/hard/play.h"
#include "countwright/beats.h"
#include "countwright/count_line.h"

/// "twice as fast 0.96; 184 bpm, metre 4, bars 1 beats late, ones 4 counts late, 130 beats for 64": the reading of the
/// true beats that fits best and its F; the metre found most; how far bars and phrases lie after true ones most often (-1
/// when nothing lies on a beat or a count).
void cw_reading_alone(const CwBeats *beats, const CwCountLine *line, const CwHardTruth *truth, char *text, size_t size);

/// How far the ones are off: the phrases that are wrong, and the middle error in seconds and in counts.
void cw_reading_of_ones(const CwCountLine *line, const CwHardTruth *truth, char *text, size_t size);

#endif
