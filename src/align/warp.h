// SPDX-License-Identifier: GPL-3.0-or-later
/// Dynamic time warping: the cheapest way through a matrix of costs, by a given set of steps, within a band.
///
/// Terms and recursion as in Müller, Fundamentals of Music Processing (2015), chapters 3.2 and 7.2. Memory is one byte
/// a cell of the band.
#ifndef CW_ALIGN_WARP_H
#define CW_ALIGN_WARP_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// A step to a cell from the one `da` rows and `db` columns before it; the cell's cost counts `weight` times.
typedef struct {
  unsigned char da, db;
  float weight;
} CwWarpStep;

/// The most rows or columns that a step may leap.
enum { CW_WARP_LEAP = 3 };

/// Where the path may go. Rows are frames of a, columns frames of b.
typedef struct {
  const CwWarpStep *step; ///< of equally cheap steps the first is taken; steps with da > 0 before those with da == 0
  size_t n_steps;         ///< at most 8
  bool open_start;        ///< the path may begin at any column of the first row (a is sought within b)
  bool open_end;          ///< the path may end at any column of the last row
  const size_t *low;      ///< first column of each row; NULL: 0. Must not descend.
  const size_t *high;     ///< column after the last of each row; NULL: n_b
} CwWarpRules;

/// Puts the costs of row `i` and columns `j` to `j + n` into `cost`.
typedef void (*CwWarpCost)(const void *user, size_t i, size_t j, size_t n, float *cost);

/// One cell of a path.
typedef struct {
  size_t a, b;
} CwWarpCell;

/// A path from its first cell to its last.
typedef struct {
  CwWarpCell *cell;
  size_t n;
  double cost;
} CwWarpPath;

/// Find the cheapest path through `n_a` rows and `n_b` columns.
/// @param accumulated The matrix of accumulated costs, n_a rows of n_b columns, infinite outside the band; NULL when
/// not wanted.
/// @param[out] path Release its cells with free(); empty on error.
/// @return CW_OK, CW_ERR_BAD_ARG (no path fits the steps and the band) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_warp(size_t n_a, size_t n_b, const CwWarpRules *rules, CwWarpCost cost, const void *user,
                              double *accumulated, CwWarpPath *path);

#endif
