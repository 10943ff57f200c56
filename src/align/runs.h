// SPDX-License-Identifier: GPL-3.0-or-later
/// Stretches over which both recordings run on together, cut from a trail.
#ifndef CW_ALIGN_RUNS_H
#define CW_ALIGN_RUNS_H

#include <stdbool.h>
#include <stddef.h>

#include "align/jumps.h"

/// Frames `first` to `end` (not included) of b.
typedef struct {
  size_t first;
  size_t end;
} CwRun;

/// Runs in the order of b. Release with free(list.run).
typedef struct {
  CwRun *run;
  size_t n;
} CwRuns;

/// Cut a trail into runs: too short ones are dropped, ones with little between them joined, and the ends drawn out to
/// where both recordings begin and end. The trail is changed to fit: within a run it has a place everywhere and never
/// goes back.
/// @param n_a Frames of a.
/// @param[out] runs Empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_runs_find(CwTrail *trail, size_t n_a, double rate_hz, CwRuns *runs);

#endif
