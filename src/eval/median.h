// SPDX-License-Identifier: GPL-3.0-or-later
/// The typical interval of a list.
#ifndef CW_EVAL_MEDIAN_H
#define CW_EVAL_MEDIAN_H

#include "eval/scores.h"

/// Median of the intervals between neighbouring times, the mean of the middle two where they are even in number; NaN
/// with fewer than two times.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_eval_median_interval(CwTimes times, double *interval);

#endif
