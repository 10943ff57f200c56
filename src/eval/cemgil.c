// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "eval/levels.h"
#include "eval/scores.h"

#define SIGMA_S 0.04

static double accuracy(const CwLevelView *truth, CwTimes found)
{
  const CwLevelView beats = cw_eval_level(found, CW_LEVEL_TRUE);
  double sum = 0;
  for (size_t i = 0; i < truth->n; i++) {
    const double time_s = cw_eval_level_time(truth, i);
    const double error_s = time_s - found.time_s[cw_eval_nearest(&beats, time_s)];
    sum += exp(-(error_s * error_s) / (2 * SIGMA_S * SIGMA_S));
  }
  return sum / (0.5 * (double)(found.n + truth->n));
}

double cw_eval_cemgil(CwTimes truth, CwTimes found, double *best)
{
  *best = 0;
  if (truth.n == 0 || found.n == 0) {
    return 0;
  }
  double at_level[CW_N_LEVELS];
  for (CwLevel level = 0; level < CW_N_LEVELS; level++) {
    const CwLevelView view = cw_eval_level(truth, level);
    at_level[level] = accuracy(&view, found);
    *best = fmax(*best, at_level[level]);
  }
  return at_level[CW_LEVEL_TRUE];
}
