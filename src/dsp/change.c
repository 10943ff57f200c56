// SPDX-License-Identifier: GPL-3.0-or-later
#include "dsp/change.h"

#include <math.h>
#include <string.h>

enum { N_ROWS = 2 * CW_CHANGE_REACH + 1 };

/// Add `sign` times the row pushed `ago` pushes before the newest (rows before the first are zero).
static void add(double *sum, const CwChange *change, size_t ago, double sign)
{
  const float *row = change->row[(change->n + N_ROWS - ago) % N_ROWS];
  for (size_t i = 0; i < CW_CHANGE_WIDTH; i++) {
    sum[i] += sign * (double)row[i];
  }
}

static float distance(const double *a, const double *b)
{
  double aa = 0;
  double bb = 0;
  double ab = 0;
  for (size_t i = 0; i < CW_CHANGE_WIDTH; i++) {
    aa += a[i] * a[i];
    bb += b[i] * b[i];
    ab += a[i] * b[i];
  }
  if (aa < 1e-9 || bb < 1e-9) { // silence on one side says nothing of harmony
    return 0;
  }
  return (float)fmin(fmax(1.0 - ab / sqrt(aa * bb), 0.0), 1.0);
}

bool cw_change_push(CwChange *change, const float *row, float *value)
{
  // the oldest row leaves the sum before it is overwritten
  add(change->before, change, 2 * CW_CHANGE_REACH + 1, -1.0);
  memcpy(change->row[change->n % N_ROWS], row, sizeof change->row[0]);
  add(change->after, change, 0, 1.0);
  add(change->after, change, CW_CHANGE_REACH - CW_CHANGE_GAP + 1, -1.0);
  add(change->before, change, CW_CHANGE_REACH + CW_CHANGE_GAP, 1.0);
  change->n++;
  if (change->n <= CW_CHANGE_REACH) {
    return false;
  }
  *value = distance(change->before, change->after);
  return true;
}
