// SPDX-License-Identifier: GPL-3.0-or-later
/// The best score of the decoding's model by trying every path there is.
#include "unit/cw_test.h"
#include "unit/pulse/plain_model.h"

static double best_from_quiet(const PlainTask *task, size_t quiet_from, size_t from);

/// Best of all ways to go on after a beat at `t`.
static double best_from_beat(const PlainTask *task, size_t t, size_t interval, size_t lane)
{
  double best = best_from_quiet(task, t + CW_QUIET_FRAMES, t + CW_QUIET_FRAMES + 1);
  for (size_t j = 0; j < task->grid.n; j++) {
    const size_t next = t + task->grid.frames[j];
    if (next >= task->activation->n) {
      continue;
    }
    const double step = plain_interval_score(task, next, j) - plain_change_cost(task, interval, j);
    for (size_t other = 0; other < PLAIN_LANES; other++) {
      const double move = plain_lane_score(task, lane, other);
      if (!isinf(move) && !isinf(step)) {
        best = fmax(best, step + move + plain_beat_score(task, next, other) + best_from_beat(task, next, j, other));
      }
    }
  }
  return best;
}

/// Best of all ways to go on when it has been quiet since frame `quiet_from` and a run may begin at `from`.
static double best_from_quiet(const PlainTask *task, size_t quiet_from, size_t from)
{
  double best = plain_quiet_score(task, quiet_from, task->activation->n);
  for (size_t t = from; t < task->activation->n; t++) {
    const double quiet = plain_quiet_score(task, quiet_from, t);
    for (size_t lane = 0; lane < PLAIN_LANES; lane++) {
      for (size_t i = 0; i < task->grid.n; i++) {
        const double begun = plain_enter_score(task, lane, i) + plain_beat_score(task, t, lane);
        if (!isinf(begun)) {
          best = fmax(best, quiet + begun + best_from_beat(task, t, i, lane));
        }
      }
    }
  }
  return best;
}

double plain_best_score_of_all(const PlainTask *task)
{
  return best_from_quiet(task, 0, 0);
}
