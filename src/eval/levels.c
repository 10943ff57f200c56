// SPDX-License-Identifier: GPL-3.0-or-later
#include "eval/levels.h"

#include <math.h>

CwLevelView cw_eval_level(CwTimes beats, CwLevel level)
{
  const size_t count[CW_N_LEVELS] = {[CW_LEVEL_TRUE] = beats.n,
                                     [CW_LEVEL_OFF_BEAT] = beats.n - 1,
                                     [CW_LEVEL_DOUBLE] = 2 * beats.n - 1,
                                     [CW_LEVEL_ODD] = (beats.n + 1) / 2,
                                     [CW_LEVEL_EVEN] = beats.n / 2};
  return (CwLevelView){beats, level, count[level]};
}

static double off_beat(const double *time_s, size_t i)
{
  return (time_s[i + 1] - time_s[i]) * 0.5 + time_s[i];
}

double cw_eval_level_time(const CwLevelView *view, size_t i)
{
  const double *time_s = view->beats.time_s;
  switch (view->level) {
  case CW_LEVEL_OFF_BEAT:
    return off_beat(time_s, i);
  case CW_LEVEL_DOUBLE:
    return i % 2 ? off_beat(time_s, i / 2) : time_s[i / 2];
  case CW_LEVEL_ODD:
    return time_s[2 * i];
  case CW_LEVEL_EVEN:
    return time_s[2 * i + 1];
  case CW_LEVEL_TRUE:
  case CW_N_LEVELS:
    break;
  }
  return time_s[i];
}

static double distance(const CwLevelView *view, size_t i, double time_s)
{
  return fabs(time_s - cw_eval_level_time(view, i));
}

size_t cw_eval_nearest(const CwLevelView *view, double time_s)
{
  size_t low = 0;
  size_t high = view->n;
  while (low < high) { // the first beat at or after time_s
    const size_t middle = low + (high - low) / 2;
    if (cw_eval_level_time(view, middle) < time_s) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  size_t nearest = low < view->n ? low : view->n - 1;
  while (nearest > 0 && distance(view, nearest - 1, time_s) <= distance(view, nearest, time_s)) {
    nearest--;
  }
  return nearest;
}
