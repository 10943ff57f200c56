// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/pulse/plain_model.h"

#include <stdlib.h>

#include "base/memory.h"
#include "pulse/lanes.h"
#include "unit/cw_test.h"

static const double pin_reward = 60.0; // as in decode.c

PlainTask plain_task(const CwActivation *activation, const CwModel *model, const CwBeatPin *pin, size_t n_pins)
{
  PlainTask task = {activation, *model, {0}, pin, n_pins};
  assert_int_equal(cw_tempo_grid_init(&task.grid, model), 0);
  return task;
}

static size_t pin_frame(const CwBeatPin *pin)
{
  return (size_t)lround(pin->time_s * CW_FEATURE_RATE_HZ);
}

unsigned plain_metre(size_t lane)
{
  return lane < 2 ? 2 : lane < 5 ? 3 : lane < 9 ? 4 : lane < 14 ? 5 : 6;
}

unsigned plain_place(size_t lane)
{
  return (unsigned)(lane < 2 ? lane : lane < 5 ? lane - 2 : lane < 9 ? lane - 5 : lane < 14 ? lane - 9 : lane - 14) + 1;
}

/// What a bar of a metre costs, or -INFINITY where it is not allowed.
static double bar_score(const PlainTask *task, unsigned metre)
{
  if (task->model.metre != 0 && task->model.metre != metre) {
    return -INFINITY;
  }
  for (size_t m = 0; m < CW_N_METRES; m++) {
    if (cw_metre_beats[m] == metre) {
      return -(double)cw_metre_rarity[m];
    }
  }
  return -INFINITY;
}

double plain_change_cost(const PlainTask *task, size_t i, size_t j)
{
  const double ratio = (double)task->grid.frames[i] / (double)task->grid.frames[j];
  return fmin(task->model.change_cost * fabs(log(ratio)), task->model.jump_cost);
}

double plain_lane_score(const PlainTask *task, size_t before, size_t lane)
{
  const bool at_bar_end = plain_place(before) == plain_metre(before);
  if (plain_place(lane) != 1) {
    return !at_bar_end && lane == before + 1 ? 0.0 : -INFINITY;
  }
  const double change = plain_metre(before) == plain_metre(lane) ? 0.0 : task->model.metre_cost;
  return at_bar_end ? bar_score(task, plain_metre(lane)) - change : -INFINITY;
}

double plain_beat_score(const PlainTask *task, size_t t, size_t lane)
{
  double pinned = 0;
  for (size_t k = 0; k < task->n_pins; k++) {
    if (pin_frame(&task->pin[k]) == t) {
      pinned = task->pin[k].downbeat && plain_place(lane) != 1 ? -INFINITY : pin_reward;
    }
  }
  // log of a Gaussian of spread 1 around the usual accent, less what no lane can change
  const double accent = (double)cw_lane_accent[lane];
  const double seen = accent * ((double)task->activation->downbeat[t] - 0.5 * accent);
  return (double)task->activation->beat[t] + seen + pinned;
}

double plain_interval_score(const PlainTask *task, size_t t, size_t i)
{
  const size_t frames = task->grid.frames[i];
  if (frames > t) {
    return -INFINITY;
  }
  for (size_t k = 0; k < task->n_pins; k++) {
    if (pin_frame(&task->pin[k]) > t - frames && pin_frame(&task->pin[k]) < t) {
      return -INFINITY;
    }
  }
  const float *beat = task->activation->beat;
  const double half = (double)beat[t - frames / 2];
  const double thirds = 0.5 * ((double)beat[t - frames / 3] + (double)beat[t - 2 * frames / 3]);
  const double between = fmax(task->model.offbeat_weight * half, task->model.thirds_weight * thirds);
  return (double)task->grid.prior[i] + fmax(0.0, between);
}

double plain_enter_score(const PlainTask *task, size_t lane, size_t i)
{
  return (double)task->grid.prior[i] - task->model.enter_cost + bar_score(task, plain_metre(lane));
}

double plain_quiet_score(const PlainTask *task, size_t from, size_t to)
{
  double score = 0;
  for (size_t k = 0; k < task->n_pins; k++) {
    const size_t frame = pin_frame(&task->pin[k]);
    score -= frame >= from && frame < to ? 2 * pin_reward : 0.0;
  }
  return score;
}

/// Best scores of paths that end with a beat, by frame, interval and lane.
typedef struct {
  const PlainTask *task;
  double *best;
  double *best_at; ///< by frame: the best of them
} Table;

static double *at(const Table *table, size_t t, size_t i)
{
  return table->best + (t * table->task->grid.n + i) * PLAIN_LANES;
}

/// Best score of there being no pulse up to frame `t` (exclusive).
static double best_quiet(const Table *table, size_t t)
{
  double best = plain_quiet_score(table->task, 0, t);
  for (size_t f = 0; f + CW_QUIET_FRAMES < t; f++) {
    best = fmax(best, table->best_at[f] + plain_quiet_score(table->task, f + CW_QUIET_FRAMES, t));
  }
  return best;
}

/// Best score of a beat before `t`, with what leads from it to a beat at `t` in `lane` after interval `j`.
static double best_before(const Table *table, size_t t, size_t j, size_t lane)
{
  const PlainTask *task = table->task;
  const double interval = plain_interval_score(task, t, j);
  double best = -INFINITY;
  if (isinf(interval)) {
    return best;
  }
  for (size_t before = 0; before < PLAIN_LANES; before++) {
    const double step = plain_lane_score(task, before, lane);
    for (size_t i = 0; i < task->grid.n && !isinf(step); i++) {
      const double so_far = at(table, t - task->grid.frames[j], i)[before];
      best = fmax(best, so_far + step + interval - plain_change_cost(task, i, j));
    }
  }
  return best;
}

static double best_end(const Table *table, size_t n)
{
  double best = best_quiet(table, n);
  for (size_t f = n > CW_QUIET_FRAMES ? n - CW_QUIET_FRAMES : 0; f < n; f++) {
    best = fmax(best, table->best_at[f]);
  }
  return best;
}

double plain_best_score(const PlainTask *task)
{
  const size_t n = task->activation->n;
  Table table = {task, cw_new(n * task->grid.n * PLAIN_LANES, sizeof(double)), cw_new(n, sizeof(double))};
  assert_non_null(table.best);
  assert_non_null(table.best_at);
  for (size_t t = 0; t < n; t++) {
    const double quiet = best_quiet(&table, t);
    table.best_at[t] = -INFINITY;
    for (size_t j = 0; j < task->grid.n; j++) {
      for (size_t lane = 0; lane < PLAIN_LANES; lane++) {
        const double begun = quiet + plain_enter_score(task, lane, j);
        const double score = plain_beat_score(task, t, lane) + fmax(begun, best_before(&table, t, j, lane));
        at(&table, t, j)[lane] = score;
        table.best_at[t] = fmax(table.best_at[t], score);
      }
    }
  }
  const double score = best_end(&table, n);
  free(table.best);
  free(table.best_at);
  return score;
}

static size_t lane_of(const CwBeat *beat)
{
  for (size_t lane = 0; lane < PLAIN_LANES; lane++) {
    if (plain_metre(lane) == beat->metre && plain_place(lane) == beat->position) {
      return lane;
    }
  }
  fail_msg("no metre has a beat %u of %u", beat->position, beat->metre);
  return 0;
}

static size_t frame_of(const CwBeat *beat)
{
  return (size_t)lround(beat->time_s * CW_FEATURE_RATE_HZ);
}

/// Index of an interval in the grid.
static size_t interval_of(const PlainTask *task, size_t frames)
{
  for (size_t i = 0; i < task->grid.n; i++) {
    if (task->grid.frames[i] == frames) {
      return i;
    }
  }
  fail_msg("an interval of %zu frames is not in the grid", frames);
  return 0;
}

/// A run's first beat has an interval before it, too, that nobody sees: the best one.
static double best_beginning(const PlainTask *task, size_t lane, const CwBeat *second, size_t t)
{
  double best = -INFINITY;
  for (size_t i = 0; i < task->grid.n; i++) {
    const double change = second ? plain_change_cost(task, i, interval_of(task, frame_of(second) - t)) : 0.0;
    best = fmax(best, plain_enter_score(task, lane, i) - change);
  }
  return best;
}

double plain_score_of(const PlainTask *task, const CwBeats *beats)
{
  const CwBeat *beat = beats->beat;
  double score = 0;
  size_t quiet_from = 0;
  size_t interval = SIZE_MAX; // not known
  for (size_t k = 0; k < beats->n; k++) {
    const size_t t = frame_of(&beat[k]);
    const size_t lane = lane_of(&beat[k]);
    score += plain_beat_score(task, t, lane);
    if (beat[k].run_start) {
      assert_true(k == 0 || t > frame_of(&beat[k - 1]) + CW_QUIET_FRAMES);
      const bool goes_on = k + 1 < beats->n && !beat[k + 1].run_start;
      score += plain_quiet_score(task, quiet_from, t);
      score += best_beginning(task, lane, goes_on ? &beat[k + 1] : NULL, t);
      interval = SIZE_MAX;
    } else {
      assert_true(k > 0);
      const size_t next = interval_of(task, t - frame_of(&beat[k - 1]));
      score += plain_interval_score(task, t, next) + plain_lane_score(task, lane_of(&beat[k - 1]), lane);
      score -= interval == SIZE_MAX ? 0.0 : plain_change_cost(task, interval, next);
      interval = next;
    }
    quiet_from = t + CW_QUIET_FRAMES;
  }
  return score + plain_quiet_score(task, quiet_from, task->activation->n);
}
