// SPDX-License-Identifier: GPL-3.0-or-later
/// Where music that comes again begins and ends to be alike.
#ifndef CW_PHRASE_REPEATS_H
#define CW_PHRASE_REPEATS_H

#include "countwright/features.h"
#include "countwright/status.h"
#include "phrase/counts.h"

/// How much a repetition of the harmony after two, four or eight usual phrases begins or ends at each count, in
/// standard deviations above the mean; all 0 where the music is too short to tell.
/// @param usual Most likely number of counts in a phrase, at least 1.
/// @param[out] edge `n` values. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_repeats_measure(const CwFeatures *features, const CwCount *count, size_t n, unsigned usual,
                                         double *edge);

#endif
