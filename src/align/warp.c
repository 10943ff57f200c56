// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/warp.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { ROWS = CW_WARP_LEAP + 1, START = 255 };

/// One warp while it runs.
typedef struct {
  size_t n_a, n_b, widest;
  const CwWarpRules *rules;
  double *row[ROWS]; ///< accumulated costs of the last rows, a ring; each begins at its row's low
  float *cost;
  uint8_t *by;    ///< the step by which each cell of the band was reached
  size_t *offset; ///< of each row in `by`
} Warp;

static size_t low_of(const Warp *warp, size_t i)
{
  return warp->rules->low ? warp->rules->low[i] : 0;
}

static size_t high_of(const Warp *warp, size_t i)
{
  return warp->rules->high ? warp->rules->high[i] : warp->n_b;
}

static void release(Warp *warp)
{
  for (size_t r = 0; r < ROWS; r++) {
    free(warp->row[r]);
  }
  free(warp->cost);
  free(warp->by);
  free(warp->offset);
}

static CwStatus prepare(Warp *warp)
{
  warp->offset = cw_new(warp->n_a, sizeof *warp->offset);
  if (!warp->offset) {
    return CW_ERR_NO_MEM;
  }
  size_t cells = 0;
  for (size_t i = 0; i < warp->n_a; i++) {
    const size_t width = high_of(warp, i) - low_of(warp, i);
    warp->offset[i] = cells;
    cells += width;
    warp->widest = width > warp->widest ? width : warp->widest;
  }
  bool ok = true;
  for (size_t r = 0; r < ROWS; r++) {
    warp->row[r] = cw_new(warp->widest, sizeof *warp->row[r]);
    ok = ok && warp->row[r];
  }
  warp->cost = cw_new(warp->widest, sizeof *warp->cost);
  warp->by = cw_new(cells, sizeof *warp->by);
  return ok && warp->cost && warp->by ? CW_OK : CW_ERR_NO_MEM;
}

static void begin_row(Warp *warp, size_t i)
{
  double *here = warp->row[i % ROWS];
  const size_t low = low_of(warp, i);
  const size_t high = high_of(warp, i);
  uint8_t *by = warp->by + warp->offset[i];
  for (size_t j = 0; j < high - low; j++) {
    here[j] = (double)INFINITY;
    by[j] = START;
  }
  if (i == 0 && low == 0) {
    const size_t open = warp->rules->open_start ? high : 1;
    for (size_t j = 0; j < open; j++) {
      here[j] = (double)warp->cost[j];
    }
  }
}

/// Try step `s` for every cell of row `i`.
static void try_step(Warp *warp, size_t i, size_t s)
{
  const CwWarpStep step = warp->rules->step[s];
  if (step.da > i) {
    return;
  }
  const size_t low = low_of(warp, i);
  const size_t low_before = low_of(warp, i - step.da);
  const size_t high_before = high_of(warp, i - step.da);
  const size_t first = low > low_before + step.db ? low : low_before + step.db;
  const size_t end = high_of(warp, i) < high_before + step.db ? high_of(warp, i) : high_before + step.db;
  const double *before = warp->row[(i - step.da) % ROWS];
  double *here = warp->row[i % ROWS];
  uint8_t *by = warp->by + warp->offset[i];
  for (size_t j = first; j < end; j++) {
    const double cost = before[j - step.db - low_before] + (double)(step.weight * warp->cost[j - low]);
    if (cost < here[j - low]) {
      here[j - low] = cost;
      by[j - low] = (uint8_t)s;
    }
  }
}

static void keep_row(const Warp *warp, size_t i, double *accumulated)
{
  double *out = accumulated + i * warp->n_b;
  for (size_t j = 0; j < warp->n_b; j++) {
    const bool inside = j >= low_of(warp, i) && j < high_of(warp, i);
    out[j] = inside ? warp->row[i % ROWS][j - low_of(warp, i)] : (double)INFINITY;
  }
}

static void accumulate(Warp *warp, CwWarpCost cost, const void *user, double *accumulated)
{
  for (size_t i = 0; i < warp->n_a; i++) {
    const size_t low = low_of(warp, i);
    cost(user, i, low, high_of(warp, i) - low, warp->cost);
    begin_row(warp, i);
    for (size_t s = 0; s < warp->rules->n_steps; s++) {
      try_step(warp, i, s);
    }
    if (accumulated) {
      keep_row(warp, i, accumulated);
    }
  }
}

/// Where the path ends. @return false when it cannot end anywhere.
static bool find_end(const Warp *warp, CwWarpCell *end, double *cost)
{
  const size_t last = warp->n_a - 1;
  const double *row = warp->row[last % ROWS];
  const size_t low = low_of(warp, last);
  const size_t high = high_of(warp, last);
  size_t best = warp->n_b - 1;
  if (warp->rules->open_end) {
    best = low;
    for (size_t j = low; j < high; j++) {
      best = row[j - low] < row[best - low] ? j : best;
    }
  } else if (high != warp->n_b) {
    return false;
  }
  *end = (CwWarpCell){last, best};
  *cost = row[best - low];
  return isfinite(*cost);
}

/// From `end` back to the start. Counts the cells first, so that exactly they are allocated.
static CwStatus walk_back(const Warp *warp, CwWarpCell end, CwWarpPath *path)
{
  for (int pass = 0; pass < 2; pass++) {
    CwWarpCell at = end;
    size_t n = 0;
    while (true) {
      if (pass == 1) {
        path->cell[path->n - 1 - n] = at;
      }
      n++;
      const uint8_t by = warp->by[warp->offset[at.a] + at.b - low_of(warp, at.a)];
      if (by == START) {
        break;
      }
      at.a -= warp->rules->step[by].da;
      at.b -= warp->rules->step[by].db;
    }
    if (pass == 0) {
      path->n = n;
      path->cell = cw_new(n, sizeof *path->cell);
      if (!path->cell) {
        path->n = 0;
        return CW_ERR_NO_MEM;
      }
    }
  }
  return CW_OK;
}

CwStatus cw_warp(size_t n_a, size_t n_b, const CwWarpRules *rules, CwWarpCost cost, const void *user,
                 double *accumulated, CwWarpPath *path)
{
  *path = (CwWarpPath){0};
  if (n_a == 0 || n_b == 0) {
    return CW_ERR_BAD_ARG;
  }
  Warp warp = {.n_a = n_a, .n_b = n_b, .rules = rules};
  CwStatus status = prepare(&warp);
  CwWarpCell end;
  if (!status) {
    accumulate(&warp, cost, user, accumulated);
    status = find_end(&warp, &end, &path->cost) ? walk_back(&warp, end, path) : CW_ERR_BAD_ARG;
  }
  release(&warp);
  return status;
}
