// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/reading.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "eval/scores.h"

/// Another way to beat time to the same music: `up` beats in the time of `down`, begun at `shift` true beats.
typedef struct {
  const char *words;
  unsigned up, down;
  double shift;
} Reading;

static const Reading readings[] = {
    {"as written", 1, 1, 0},
    {"off the beat", 1, 1, 0.5},
    {"twice as fast", 2, 1, 0},
    {"half as fast", 1, 2, 0},
    {"half as fast (off)", 1, 2, 1},
    {"3 for 1", 3, 1, 0},
    {"1 for 3", 1, 3, 0},
    {"1 for 3 (2nd)", 1, 3, 1},
    {"1 for 3 (3rd)", 1, 3, 2},
    {"3 for 2", 3, 2, 0},
    {"2 for 3", 2, 3, 0},
    {"4 for 1", 4, 1, 0},
    {"1 for 4", 1, 4, 0},
    {"1 for 4 (3rd)", 1, 4, 2},
};

/// F of the beats found against another reading.
static double f_of_reading(const Reading *reading, CwTimes found, const CwHardTruth *truth)
{
  const double step = (double)reading->down / reading->up, last = (double)truth->n_beats - 1;
  double *other = cw_must_new((size_t)((last + 1) / step) + 2, sizeof *other);
  size_t n_other = 0;
  for (double at = reading->shift; at <= last; at = reading->shift + step * (double)n_other) {
    const size_t before = (size_t)at;
    const double part = at - (double)before;
    const double next_s = before + 1 < truth->n_beats ? truth->beat_s[before + 1] : truth->beat_s[before];
    other[n_other++] = truth->beat_s[before] + part * (next_s - truth->beat_s[before]);
  }
  const double f = cw_eval_hits((CwTimes){other, n_other}, found, CW_EVAL_WINDOW_S).f;
  free(other);
  return f;
}

/// Nearest of ascending times.
static size_t nearest(CwTimes times, double time_s)
{
  size_t best = 0;
  for (size_t i = 1; i < times.n; i++)
    if (fabs(times.time_s[i] - time_s) < fabs(times.time_s[best] - time_s))
      best = i;
  return best;
}

/// By how many true steps (beats, counts) what was found lies after a true start (of a bar, of a phrase), most often; -1
/// when none of it lies on a step.
static int usual_shift(CwTimes found, CwTimes steps, CwTimes starts)
{
  enum { MOST = 16 };
  unsigned often[MOST] = {0};
  int best = -1;
  for (size_t i = 0; i < found.n; i++) {
    const size_t step = nearest(steps, found.time_s[i]);
    if (fabs(steps.time_s[step] - found.time_s[i]) > CW_EVAL_WINDOW_S)
      continue;
    int shift = 0;
    for (size_t k = step; k > 0 && shift < MOST - 1; k--, shift++)
      if (starts.time_s[nearest(starts, steps.time_s[k])] == steps.time_s[k])
        break;
    often[shift]++;
    if (best < 0 || often[shift] > often[best])
      best = shift;
  }
  return best;
}

/// The reading that fits best. @param[out] f How well.
static const Reading *best_reading(CwTimes found, const CwHardTruth *truth, double *f)
{
  const Reading *best = readings;
  *f = 0;
  for (size_t r = 0; r < sizeof readings / sizeof *readings; r++) {
    const double fit = f_of_reading(&readings[r], found, truth);
    if (fit > *f) {
      *f = fit;
      best = &readings[r];
    }
  }
  return best;
}

void cw_reading_alone(const CwBeats *beats, const CwCountLine *line, const CwHardTruth *truth, char *text, size_t size)
{
  double *time_s = cw_must_new(beats->n + 1, sizeof *time_s), *bar_s = cw_must_new(beats->n + 1, sizeof *bar_s);
  double *one_s = cw_must_new(line->n_phrases + 1, sizeof *one_s), f;
  CwTimes found = {time_s, 0}, bars = {bar_s, 0};
  const CwTimes ones = {one_s, line->n_phrases};
  for (size_t i = 0; i < beats->n; i++) {
    if (beats->beat[i].time_s < truth->from_s)
      continue;
    time_s[found.n++] = beats->beat[i].time_s;
    if (beats->beat[i].position == 1)
      bar_s[bars.n++] = beats->beat[i].time_s;
  }
  for (size_t k = 0; k < line->n_phrases; k++)
    one_s[k] = cw_count_line_start(line, k);
  const CwTimes true_beats = {truth->beat_s, truth->n_beats}, true_bars = {truth->downbeat_s, truth->n_downbeats};
  const CwTimes true_counts = {truth->count_s, truth->n_counts}, true_ones = {truth->one_s, truth->n_phrases};
  const Reading *best = best_reading(found, truth, &f);
  snprintf(text, size, "%s %.2f; %.0f bpm, metre %u, bars %d beats late, ones %d counts late, %zu beats for %zu",
           best->words, f, beats->bpm, beats->metre, usual_shift(bars, true_beats, true_bars),
           usual_shift(ones, true_counts, true_ones), found.n, truth->n_beats);
  free(time_s);
  free(bar_s);
  free(one_s);
}

static int compare(const void *a, const void *b)
{
  const double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

void cw_reading_of_ones(const CwCountLine *line, const CwHardTruth *truth, char *text, size_t size)
{
  const size_t n = line->n_phrases < truth->n_phrases ? line->n_phrases : truth->n_phrases;
  double *error_s = cw_must_new(n + 1, sizeof *error_s);
  size_t n_wrong = 0, first = 0;
  for (size_t k = 0; k < n; k++) {
    const double off_s = cw_count_line_start(line, k) - truth->one_s[k];
    if (fabs(off_s) > CW_EVAL_WINDOW_S) {
      first = n_wrong == 0 ? k + 1 : first;
      error_s[n_wrong++] = off_s;
    }
  }
  text[0] = '\0';
  if (n_wrong > 0) {
    qsort(error_s, n_wrong, sizeof *error_s, compare);
    const double count_s = (truth->count_s[truth->n_counts - 1] - truth->count_s[0]) / (double)truth->n_counts;
    snprintf(text, size, "%zu of %zu ones off, first %zu, from %+.2f to %+.2f s, middle %+.2f s or %+.1f counts",
             n_wrong, n, first, error_s[0], error_s[n_wrong - 1], error_s[n_wrong / 2], error_s[n_wrong / 2] / count_s);
  }
  free(error_s);
}
