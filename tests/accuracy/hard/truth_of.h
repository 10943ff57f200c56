// SPDX-License-Identifier: GPL-3.0-or-later
/// The truth about a piece as it is played. Inside of play.h.
#ifndef CW_TEST_HARD_TRUTH_OF_H
#define CW_TEST_HARD_TRUTH_OF_H

#include "accuracy/hard/play.h"

/// @return false when the case's phrases are wrong, having said so. Release with cw_hard_truth_free().
bool cw_hard_truth(const CwHardCase *hard, const CwWritten *written, const CwBeatMap *map, CwHardTruth *truth);

void cw_hard_truth_free(CwHardTruth *truth);

#endif
