// SPDX-License-Identifier: GPL-3.0-or-later
/// How much each count sounds like the first of a phrase.
#ifndef CW_PHRASE_BOUNDARIES_H
#define CW_PHRASE_BOUNDARIES_H

#include "countwright/features.h"
#include "countwright/status.h"
#include "phrase/counts.h"

/// Novelty of harmony and timbre at each count, in standard deviations above its mean.
/// @param[out] novelty `n` values. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_boundaries_measure(const CwFeatures *features, const CwCount *count, size_t n,
                                            double *novelty);

#endif
