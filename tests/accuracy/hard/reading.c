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
static double f_of_reading(const Reading *reading, const double *found, size_t n, const CwHardTruth *truth)
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
  const double f = cw_eval_hits((CwTimes){other, n_other}, (CwTimes){found, n}, CW_EVAL_WINDOW_S).f;
  free(other);
  return f;
}

/// Nearest of ascending times.
static size_t nearest(const double *times, size_t n, double time_s)
{
  size_t best = 0;
  for (size_t i = 1; i < n; i++)
    if (fabs(times[i] - time_s) < fabs(times[best] - time_s))
      best = i;
  return best;
}

/// By how many true beats the downbeats found lie after a true one, most often; -1 when there are none to tell by.
static int usual_shift(const CwBeats *beats, const CwHardTruth *truth)
{
  enum { MOST = 8 };
  unsigned often[MOST] = {0};
  int best = -1;
  for (size_t i = 0; i < beats->n; i++) {
    const size_t at = nearest(truth->beat_s, truth->n_beats, beats->beat[i].time_s);
    if (beats->beat[i].position != 1 || fabs(truth->beat_s[at] - beats->beat[i].time_s) > CW_EVAL_WINDOW_S)
      continue;
    int shift = 0;
    for (size_t k = at; k > 0 && shift < MOST - 1; k--, shift++) {
      const size_t bar = nearest(truth->downbeat_s, truth->n_downbeats, truth->beat_s[k]);
      if (truth->downbeat_s[bar] == truth->beat_s[k])
        break;
    }
    often[shift]++;
    if (best < 0 || often[shift] > often[best])
      best = shift;
  }
  return best;
}

void cw_reading_of_beats(const CwBeats *beats, const CwHardTruth *truth, char *text, size_t size)
{
  double *found = cw_must_new(beats->n + 1, sizeof *found), best_f = 0;
  size_t n = 0;
  for (size_t i = 0; i < beats->n; i++)
    if (beats->beat[i].time_s >= truth->from_s)
      found[n++] = beats->beat[i].time_s;
  const Reading *best = NULL;
  for (size_t r = 0; r < sizeof readings / sizeof *readings; r++) {
    const double f = f_of_reading(&readings[r], found, n, truth);
    if (best == NULL || f > best_f) {
      best_f = f;
      best = &readings[r];
    }
  }
  const double off_f = f_of_reading(&readings[1], found, n, truth);
  snprintf(text, size, "%s %.2f, off the beat %.2f; %.0f bpm, metre %u, downbeats %d late, %zu found, %zu true",
           best->words, best_f, off_f, beats->bpm, beats->metre, usual_shift(beats, truth), n, truth->n_beats);
  free(found);
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
