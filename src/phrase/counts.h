// SPDX-License-Identifier: GPL-3.0-or-later
/// Counts made from beats.
#ifndef CW_PHRASE_COUNTS_H
#define CW_PHRASE_COUNTS_H

#include <stdbool.h>

#include "countwright/beats.h"
#include "countwright/status.h"

/// Fewest and most beats that a count may last.
#define CW_LEAST_BEATS 0.25
#define CW_MOST_BEATS 16.0

/// One count.
typedef struct {
  double time_s;
  double end_s;     ///< where it ends: the next count, or one interval on at the end of a run
  bool bar_start;   ///< a bar begins with it
  bool run_start;   ///< counts begin here, after a stretch with no pulse
  float confidence; ///< of its beat
} CwCount;

/// Make counts.
/// @param beats_per_count 0 to choose; kept to CW_LEAST_BEATS and CW_MOST_BEATS. Any number will do: 1.5 beats are two
/// counts in a bar of three, and counts that fit no bar run on through the bars.
/// @param[out] count Release with free(); NULL on error. @param[out] n Number of them.
/// @param[out] usual Beats per count of most counts.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_counts_make(const CwBeats *beats, double beats_per_count, CwCount **count, size_t *n,
                                     double *usual);

#endif
