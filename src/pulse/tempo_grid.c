// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/tempo_grid.h"

#include <math.h>
#include <string.h>

#define RATIO 1.015

int cw_tempo_grid_init(CwTempoGrid *grid, const CwModel *model)
{
  memset(grid, 0, sizeof *grid);
  if (!(model->min_bpm > 0 && model->max_bpm >= model->min_bpm)) {
    return -1;
  }
  const double frames_a_minute = 60.0 * CW_FEATURE_RATE_HZ;
  const size_t shortest = (size_t)lround(frames_a_minute / model->max_bpm);
  const size_t longest = (size_t)lround(frames_a_minute / model->min_bpm);
  if (shortest < 2) {
    return -1;
  }
  for (size_t frames = shortest; frames <= longest;) {
    if (grid->n == CW_MAX_INTERVALS) {
      return -1;
    }
    const double seconds = (double)frames / CW_FEATURE_RATE_HZ;
    const double away = log(60.0 / seconds / model->likely_bpm) / model->tempo_spread;
    const size_t i = grid->n++;
    grid->frames[i] = frames;
    grid->prior[i] = (float)(-0.5 * model->tempo_weight * seconds * away * away);
    if (i > 0) {
      grid->step[i] = (float)(model->change_cost * log((double)frames / (double)grid->frames[i - 1]));
    }
    const size_t next = (size_t)lround((double)frames * RATIO);
    frames = next > frames ? next : frames + 1;
  }
  return 0;
}
