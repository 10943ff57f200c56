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

/// A truth file of audio-fixtures: a time and up to three more fields in every line.
typedef struct {
  double *time_s;
  bool *downbeat;   ///< .beats: the second field is "db"
  unsigned *first;  ///< .ones, .counts: second field (phrase number)
  unsigned *second; ///< .ones: counts of the phrase; .counts: count
  double *end_s;    ///< .ones: end of the phrase's last count
  size_t n;
} CwTruth;

/// Read CW_FIXTURES/name. @return false when it cannot be read.
bool cw_truth_read(const char *name, CwTruth *truth);

void cw_truth_free(CwTruth *truth);

#endif
