// SPDX-License-Identifier: GPL-3.0-or-later
/// How each count sounds.
#ifndef CW_PHRASE_ROWS_H
#define CW_PHRASE_ROWS_H

#include "countwright/features.h"
#include "phrase/counts.h"

enum { CW_ROW_CHROMA = 12, CW_ROW_WIDTH = CW_ROW_CHROMA + CW_TIMBRE_BANDS };

/// A row for each count: mean chroma, then mean timbre, each less its mean over all counts and brought to length 1.
/// @return `n` rows of CW_ROW_WIDTH, to be released with free(); NULL when memory is full.
float *cw_rows_make(const CwFeatures *features, const CwCount *count, size_t n);

/// Bring `n` values to mean 0 and spread 1; values all alike become 0.
void cw_standardise(double *x, size_t n);

#endif
