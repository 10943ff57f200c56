// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/curve.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

enum { ROUNDS = 4 };

/// The first differences count this much less than the second: over more than some twelve values of no weight the curve
/// runs straight from what is known to what is known, and does not swing out.
static const double levelling = 1.0 / (12.0 * 12.0);

/// So little weight that it only keeps the equations solvable where nothing else does.
static const double faint = 1e-9;

/// The equations' matrix is symmetric with two side diagonals; both are overwritten by its factors.
typedef struct {
  double *diagonal, *first, *second;
} Bands;

/// Row `i` of the squared second differences: 1 5 6 6 ... 6 5 1, -2 -4 -4 ... -4 -2, 1 1 ... 1; and of the squared first
/// differences: 1 2 2 ... 2 1, -1 -1 ... -1.
static void fill(Bands *bands, const double *weight, size_t n, double stiffness)
{
  for (size_t i = 0; i < n; i++) {
    double square = 0; // each second difference that i is part of
    square += i >= 2 ? 1 : 0;
    square += i >= 1 && i + 1 < n ? 4 : 0;
    square += i + 2 < n ? 1 : 0;
    double next = 0;
    next -= i + 2 < n ? 2 : 0;
    next -= i >= 1 && i + 1 < n ? 2 : 0;
    square += levelling * ((i >= 1 ? 1 : 0) + (i + 1 < n ? 1 : 0));
    next -= i + 1 < n ? levelling : 0;
    bands->diagonal[i] = weight[i] + faint + stiffness * square;
    bands->first[i] = stiffness * next;
    bands->second[i] = i + 2 < n ? stiffness : 0;
  }
}

/// Solve in place: `curve` holds the right side, then the solution.
static void solve(Bands *bands, size_t n, double *curve)
{
  double *d = bands->diagonal;
  double *e = bands->first;
  double *f = bands->second;
  for (size_t i = 0; i < n; i++) {
    const double low = e[i] / d[i];
    const double lower = f[i] / d[i];
    if (i + 1 < n) {
      d[i + 1] -= low * e[i];
      e[i + 1] -= low * f[i];
      curve[i + 1] -= low * curve[i];
    }
    if (i + 2 < n) {
      d[i + 2] -= lower * f[i];
      curve[i + 2] -= lower * curve[i];
    }
  }
  for (size_t i = n; i-- > 0;) {
    curve[i] -= i + 1 < n ? e[i] * curve[i + 1] : 0;
    curve[i] -= i + 2 < n ? f[i] * curve[i + 2] : 0;
    curve[i] /= d[i];
  }
}

CwStatus cw_curve_fit(const double *value, const double *weight, size_t n, double stiffness, double outlier,
                      double *curve)
{
  double *room = cw_new(4 * n, sizeof *room);
  if (!room) {
    return CW_ERR_NO_MEM;
  }
  double *say = room;
  Bands bands = {room + n, room + 2 * n, room + 3 * n};
  for (int round = 0; round < ROUNDS; round++) {
    for (size_t i = 0; i < n; i++) {
      const double distance = round == 0 ? 0.0 : (value[i] - curve[i]) / outlier;
      say[i] = weight[i] / (1 + distance * distance);
    }
    fill(&bands, say, n, stiffness);
    for (size_t i = 0; i < n; i++) {
      curve[i] = say[i] * value[i];
    }
    solve(&bands, n, curve);
  }
  free(room);
  return CW_OK;
}
