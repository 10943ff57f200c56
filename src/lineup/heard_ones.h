// SPDX-License-Identifier: GPL-3.0-or-later
/// Whether ones fall where phrases of the music begin, and repeats where it comes again.
#ifndef CW_LINEUP_HEARD_ONES_H
#define CW_LINEUP_HEARD_ONES_H

#include "countwright/features.h"
#include "countwright/notebook.h"
#include "lineup/again.h"

/// How much each count of a line-up sounds like the first of a phrase. Release with free(): one value for each count that
/// has a time, about ln of odds. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_heard_ones(const CwFeatures *features, const CwFall *fall, unsigned usual, double **worth);

/// What is said for notes' ones and repeats by counts at these times. The counts may be those of other notes, as long as
/// they are as many.
/// @param worth Of the counts, as above. @param time_s `n` times. @param[out] sum
CW_NODISCARD CwStatus cw_heard_sum(const CwFeatures *features, const CwNotebook *notebook, const double *time_s,
                                   const double *worth, size_t n, double *sum);

#endif
