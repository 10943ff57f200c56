// SPDX-License-Identifier: GPL-3.0-or-later
/// The intervals between beats that the decoding considers.
#ifndef CW_PULSE_TEMPO_GRID_H
#define CW_PULSE_TEMPO_GRID_H

#include <stddef.h>

#include "pulse/decode.h"

/// Most intervals in a grid; an index fits in a byte.
#define CW_MAX_INTERVALS 192

/// Intervals ascending: every frame while that is finer than 1.5 %, then 1.5 % apart.
typedef struct {
  size_t n;
  size_t frames[CW_MAX_INTERVALS];
  float step[CW_MAX_INTERVALS];  ///< cost of the change from the interval before in the grid; 0 for the first
  float prior[CW_MAX_INTERVALS]; ///< not positive: what a beat after this interval costs by the tempo prior
} CwTempoGrid;

/// @return 0, or -1 when the model's tempo range is empty or out of bounds.
int cw_tempo_grid_init(CwTempoGrid *grid, const CwModel *model);

#endif
