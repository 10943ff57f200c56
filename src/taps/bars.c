// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/bars.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/memory.h"
#include "pulse/lanes.h"

#define NEVER (-1e9F)
#define METRE_COST 6.0F

typedef uint8_t From[CW_LANES];

/// The lane after which `lane` comes best, and what that is worth.
static float come_from(const float *score, unsigned lane, uint8_t *from)
{
  if (cw_lane_place[lane] > 0) {
    *from = (uint8_t)(lane - 1);
    return score[lane - 1];
  }
  float best = 2 * NEVER;
  for (unsigned m = 0; m < CW_N_METRES; m++) {
    const unsigned last = cw_metre_first[m] + cw_metre_beats[m] - 1U;
    const float worth = score[last] - (m == cw_lane_metre[lane] ? 0.0F : METRE_COST);
    if (worth > best) {
      best = worth;
      *from = (uint8_t)last;
    }
  }
  return best;
}

/// Scores of the lanes of beat `i` from those of the beat before it.
static void step(const CwBeats *beats, size_t i, float accent, unsigned metre, float *score, uint8_t *from)
{
  float next[CW_LANES];
  for (unsigned lane = 0; lane < CW_LANES; lane++) {
    const unsigned own = cw_lane_metre[lane];
    const bool used = metre == 0 || cw_metre_beats[own] == metre;
    from[lane] = 0;
    next[lane] = NEVER;
    if (used) {
      const float a = cw_lane_accent[lane];
      const float before =
          i > 0 && !beats->beat[i].run_start ? come_from(score, lane, &from[lane]) : -cw_metre_rarity[own];
      next[lane] = before + a * (accent - 0.5F * a);
    }
  }
  for (unsigned lane = 0; lane < CW_LANES; lane++) {
    score[lane] = next[lane];
  }
}

CwStatus cw_taps_find_bars(const float *accent, size_t n, unsigned metre, CwBeats *beats)
{
  float score[CW_LANES] = {0};
  From *from = cw_new(beats->n, sizeof *from);
  if (!from) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < beats->n; i++) {
    const size_t frame = (size_t)lround(fmax(beats->beat[i].time_s, 0.0) * CW_FEATURE_RATE_HZ);
    step(beats, i, frame < n ? accent[frame] : 0.0F, metre, score, from[i]);
  }
  unsigned lane = 0;
  for (unsigned k = 1; k < CW_LANES; k++) {
    lane = score[k] > score[lane] ? k : lane;
  }
  for (size_t i = beats->n; i-- > 0;) {
    beats->beat[i].position = cw_lane_place[lane] + 1U;
    beats->beat[i].metre = cw_metre_beats[cw_lane_metre[lane]];
    lane = from[i][lane];
  }
  free(from);
  return CW_OK;
}
