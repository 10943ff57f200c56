// SPDX-License-Identifier: GPL-3.0-or-later
/// The forward-backward sums as the textbooks have them (Rabiner 1989), in logs.
#include <stdlib.h>

#include "base/memory.h"
#include "unit/cw_test.h"
#include "unit/pulse/plain_model.h"

typedef struct {
  const PlainTask *task;
  size_t n, n_intervals;
  double *change;   ///< by interval and next interval: log weight; they sum to 1 over the next
  double *before;   ///< by frame and interval: log sum over paths up to a beat there
  double *after;    ///< by frame and interval: log sum over what may follow a beat there
  double *quiet;    ///< by frame: log sum over paths that are without pulse after it
  double *silenced; ///< by frame: log sum over what may follow being without pulse after it
} Sums;

static double add_logs(double a, double b)
{
  const double high = fmax(a, b);
  return isinf(high) ? high : high + log1p(exp(fmin(a, b) - high));
}

static double *new_table(size_t n)
{
  double *table = cw_new(n, sizeof *table);
  assert_non_null(table);
  for (size_t i = 0; i < n; i++) {
    table[i] = -INFINITY;
  }
  return table;
}

static double *new_changes(const PlainTask *task)
{
  const size_t n = task->grid.n;
  double *change = new_table(n * n);
  for (size_t i = 0; i < n; i++) {
    double sum = -INFINITY;
    for (size_t j = 0; j < n; j++) {
      const double ratio = log((double)task->grid.frames[i] / (double)task->grid.frames[j]);
      change[i * n + j] = add_logs(-task->model.change_cost * fabs(ratio), -task->model.jump_cost);
      sum = add_logs(sum, change[i * n + j]);
    }
    for (size_t j = 0; j < n; j++) {
      change[i * n + j] -= sum;
    }
  }
  return change;
}

/// What beginning with a beat at `t` and interval `i` is worth.
static double begun(const PlainTask *task, size_t t, size_t i)
{
  const double enter = -task->model.enter_cost - log((double)task->grid.n);
  return enter + (double)task->activation->beat[t] + (double)task->grid.prior[i];
}

/// What going on to a beat at `t` after interval `i` is worth.
static double gone_on(const PlainTask *task, size_t t, size_t i)
{
  return (double)task->activation->beat[t] + plain_interval_score(task, t, i);
}

static void forward(Sums *s)
{
  for (size_t t = 0; t < s->n; t++) {
    const double quiet = t > 0 ? s->quiet[t - 1] : 0.0;
    for (size_t i = 0; i < s->n_intervals; i++) {
      const size_t frames = s->task->grid.frames[i];
      double sum = quiet + begun(s->task, t, i);
      for (size_t h = 0; h < s->n_intervals && t >= frames; h++) {
        const double before = s->before[(t - frames) * s->n_intervals + h];
        sum = add_logs(sum, before + s->change[h * s->n_intervals + i] + gone_on(s->task, t, i));
      }
      s->before[t * s->n_intervals + i] = sum;
    }
    s->quiet[t] = quiet;
    for (size_t i = 0; t >= CW_QUIET_FRAMES && i < s->n_intervals; i++) {
      s->quiet[t] = add_logs(s->quiet[t], s->before[(t - CW_QUIET_FRAMES) * s->n_intervals + i]);
    }
  }
}

static void backward(Sums *s)
{
  for (size_t t = s->n; t-- > 0;) {
    s->silenced[t] = t + 1 < s->n ? s->silenced[t + 1] : 0.0;
    for (size_t i = 0; t + 1 < s->n && i < s->n_intervals; i++) {
      s->silenced[t] = add_logs(s->silenced[t], begun(s->task, t + 1, i) + s->after[(t + 1) * s->n_intervals + i]);
    }
    for (size_t i = 0; i < s->n_intervals; i++) {
      double sum = t + CW_QUIET_FRAMES < s->n ? s->silenced[t + CW_QUIET_FRAMES] : 0.0;
      for (size_t j = 0; j < s->n_intervals; j++) {
        const size_t next = t + s->task->grid.frames[j];
        if (next < s->n) {
          const double step = s->change[i * s->n_intervals + j] + gone_on(s->task, next, j);
          sum = add_logs(sum, step + s->after[next * s->n_intervals + j]);
        }
      }
      s->after[t * s->n_intervals + i] = sum;
    }
  }
}

double *plain_posterior(const PlainTask *task)
{
  const size_t n = task->activation->n;
  const size_t cells = n * task->grid.n;
  Sums s = {task, n, task->grid.n, new_changes(task), new_table(cells), new_table(cells), new_table(n), new_table(n)};
  forward(&s);
  backward(&s);
  double total = s.quiet[n - 1];
  for (size_t k = 0; k < cells; k++) {
    total = k / s.n_intervals + CW_QUIET_FRAMES >= n ? add_logs(total, s.before[k]) : total;
  }
  double *probability = cw_new(n, sizeof *probability);
  assert_non_null(probability);
  for (size_t k = 0; k < cells; k++) {
    probability[k / s.n_intervals] += exp(s.before[k] + s.after[k] - total);
  }
  free(s.change);
  free(s.before);
  free(s.after);
  free(s.quiet);
  free(s.silenced);
  return probability;
}

/// A path that is being tried.
typedef struct {
  const PlainTask *task;
  const double *change;
  size_t beat[16];
  size_t n;
  double total;
  double *probability;
} Walk;

static void try_beats(Walk *walk, size_t from, double score);

/// Add the path up to here as a whole one, then go on from its last beat.
static void try_from(Walk *walk, size_t t, size_t interval, double score)
{
  const PlainTask *task = walk->task;
  assert_true(walk->n < 16);
  walk->beat[walk->n++] = t;
  for (size_t k = 0; k < walk->n; k++) {
    walk->probability[walk->beat[k]] += exp(score);
  }
  walk->total += exp(score);
  for (size_t j = 0; j < task->grid.n; j++) {
    const size_t next = t + task->grid.frames[j];
    if (next < task->activation->n) {
      try_from(walk, next, j, score + walk->change[interval * task->grid.n + j] + gone_on(task, next, j));
    }
  }
  try_beats(walk, t + CW_QUIET_FRAMES + 1, score);
  walk->n--;
}

/// Begin a run at every frame from `from` on.
static void try_beats(Walk *walk, size_t from, double score)
{
  for (size_t t = from; t < walk->task->activation->n; t++) {
    for (size_t i = 0; i < walk->task->grid.n; i++) {
      try_from(walk, t, i, score + begun(walk->task, t, i));
    }
  }
}

double *plain_posterior_of_all(const PlainTask *task)
{
  double *change = new_changes(task);
  Walk walk = {.task = task, .change = change, .total = 1.0}; // the path without a beat
  walk.probability = cw_new(task->activation->n, sizeof *walk.probability);
  assert_non_null(walk.probability);
  try_beats(&walk, 0, 0.0);
  for (size_t t = 0; t < task->activation->n; t++) {
    walk.probability[t] /= walk.total;
  }
  free(change);
  return walk.probability;
}
