// SPDX-License-Identifier: GPL-3.0-or-later
/// Found times against true times.
#ifndef CW_TEST_MEASURE_H
#define CW_TEST_MEASURE_H

#include <stdbool.h>
#include <stddef.h>

/// How well found times fit true ones. A true time is hit by at most one found time within the tolerance.
typedef struct {
  size_t n_true, n_found, n_hit;
  double recall, precision, f; ///< 0 to 1; 1 when there is nothing to find or nothing found, as the case may be
  double mean_error_s;         ///< of the hits, without sign
  double greatest_error_s;     ///< of the hits, without sign
} CwScore;

/// Compare ascending times.
CwScore cw_score(const double *truth_s, size_t n_true, const double *found_s, size_t n_found, double tolerance_s);

#endif
