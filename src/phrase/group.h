// SPDX-License-Identifier: GPL-3.0-or-later
/// The second decoding: counts grouped to phrases.
#ifndef CW_PHRASE_GROUP_H
#define CW_PHRASE_GROUP_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"
#include "phrase/counts.h"

/// Most likely number of counts in a phrase unless something else is known.
#define CW_USUAL_COUNTS 8

/// Find where phrases begin within one run of counts.
/// The first bar most often begins with a one, after a pick-up: counts left out from there on cost.
/// @param novelty Of each count, in standard deviations.
/// @param usual Most likely number of counts in a phrase.
/// @param[out] begins Set where a phrase begins; `n` values. Counts before the first are the pick-up.
/// @param[out] probability That a phrase begins there, by the model; `n` values.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_group(const CwCount *count, const double *novelty, size_t n, unsigned usual, bool *begins,
                               double *probability);

#endif
