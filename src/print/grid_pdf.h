// SPDX-License-Identifier: GPL-3.0-or-later
/// The grid of a phrase on paper: a band of counts, equally wide, with the steps beneath them.
#ifndef CW_PRINT_GRID_PDF_H
#define CW_PRINT_GRID_PDF_H

#include <stdbool.h>

#include "print/canvas.h"
#include "print/cells.h"

/// A grid and its place.
typedef struct {
  const CwCells *cells;
  unsigned counts;
  unsigned columns; ///< counts side by side
  double x;
  double width;
  double write_in; ///< room under a line in which no step begins
} CwGrid;

/// Set a grid from `y` down; only measures while the canvas is dry. A step may spread over the free counts to its right.
/// @param[out] height Its height.
/// @return false when a word is wider than its room, or counts stand too close; what was set is then of no use.
bool cw_grid_set(CwCanvas *canvas, const CwGrid *grid, double y, double *height);

#endif
