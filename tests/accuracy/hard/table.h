// SPDX-License-Identifier: GPL-3.0-or-later
/// The table of thresholds of the hard cases.
#ifndef CW_TEST_HARD_TABLE_H
#define CW_TEST_HARD_TABLE_H

#include "accuracy/hard/judge.h"

/// Of one case in one mode: what a dancer needs, and what holds today. Where they are not the same, the case falls short,
/// and says so; what holds may not be lost. 0 asks for nothing.
typedef struct {
  const char *name;
  CwMode mode;
  double wanted[CW_N_MEASURES];
  double held[CW_N_MEASURES];
} CwHardLine;

/// Of one thing that spoils recordings, in one mode: by how much each measure may fall from what it is in the clean
/// recordings, in the mean over the pieces. What is wanted is cw_wanted_fall everywhere.
typedef struct {
  const char *spoil;
  CwMode mode;
  double held[CW_N_MEASURES];
} CwSpoilLine;

extern const CwHardLine cw_hard_table[];
extern const size_t cw_n_hard_lines;
extern const CwSpoilLine cw_spoil_table[];
extern const size_t cw_n_spoil_lines;
extern const double cw_wanted_fall;

/// NULL when there is none.
const CwHardLine *cw_hard_line(const char *name, CwMode mode);
const CwSpoilLine *cw_spoil_line(const char *spoil, CwMode mode);

#endif
