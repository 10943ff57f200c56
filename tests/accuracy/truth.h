// SPDX-License-Identifier: GPL-3.0-or-later
/// The truth files of audio-fixtures.
#ifndef CW_TEST_TRUTH_H
#define CW_TEST_TRUTH_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/count_line.h"

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

/// The count line of CW_FIXTURES/NAME.ones and NAME.counts. @return false when it cannot be made.
bool cw_true_line(const char *name, CwCountLine *line);

#endif
