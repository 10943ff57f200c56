// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "eval/levels.h"
#include "eval/scores.h"

#define PHASE_TOLERANCE 0.175
#define PERIOD_TOLERANCE 0.175

/// Shares of right beats at one level.
typedef struct {
  double longest;
  double total;
} Shares;

/// Whether found beat `i` is right about true beat `nearest`: in phase, and its interval like that of the truth. Intervals
/// are those before the two beats; where one of them is the first of its list, those after them.
static bool is_right(const CwLevelView *truth, CwTimes found, size_t nearest, size_t i)
{
  const bool first = i == 0 || nearest == 0;
  const size_t true_end = first && nearest + 1 < truth->n ? nearest + 1 : nearest;
  const size_t found_end = first && i + 1 < found.n ? i + 1 : i;
  if (true_end == 0) {
    return false; // a level of a single beat has no interval
  }
  const double true_s = cw_eval_level_time(truth, true_end) - cw_eval_level_time(truth, true_end - 1);
  const double found_s = found.time_s[found_end] - found.time_s[found_end - 1];
  const double error_s = fabs(found.time_s[i] - cw_eval_level_time(truth, nearest));
  return true_s > 0 && error_s / true_s < PHASE_TOLERANCE && fabs(1 - found_s / true_s) < PERIOD_TOLERANCE;
}

/// No true beat is taken twice, which the measure forbids: two found beats that are both in phase with it lie closer
/// together than the period allows.
static Shares shares_at(const CwLevelView *truth, CwTimes found)
{
  size_t right = 0;
  size_t stretch = 0;
  size_t longest = 0;
  for (size_t i = 0; i < found.n; i++) {
    const bool good = is_right(truth, found, cw_eval_nearest(truth, found.time_s[i]), i);
    right += good;
    stretch = good ? stretch + 1 : 0;
    longest = stretch > longest ? stretch : longest;
  }
  const double n = (double)(truth->n > found.n ? truth->n : found.n);
  return (Shares){(double)longest / n, (double)right / n};
}

CwContinuity cw_eval_continuity(CwTimes truth, CwTimes found)
{
  CwContinuity continuity = {0};
  if (truth.n < 2 || found.n < 2) {
    return continuity;
  }
  for (CwLevel level = 0; level < CW_N_LEVELS; level++) {
    const CwLevelView view = cw_eval_level(truth, level);
    const Shares shares = shares_at(&view, found);
    if (level == CW_LEVEL_TRUE) {
      continuity.cml_c = shares.longest;
      continuity.cml_t = shares.total;
    }
    continuity.aml_c = fmax(continuity.aml_c, shares.longest);
    continuity.aml_t = fmax(continuity.aml_t, shares.total);
  }
  return continuity;
}
