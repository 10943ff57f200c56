// SPDX-License-Identifier: GPL-3.0-or-later
/// The model of lineup/follow.h written plainly: every path is tried, one after the other.
#ifndef CW_TEST_ALL_PATHS_H
#define CW_TEST_ALL_PATHS_H

#include "lineup/follow.h"

/// The best score of all paths.
/// @param frame Only paths through these frames, `n_found` of them; NULL for all paths.
/// @return -INFINITY when there is no path.
double best_of_all_paths(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const size_t *frame,
                         size_t n_found);

#endif
