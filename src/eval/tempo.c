// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "eval/median.h"
#include "eval/scores.h"

#define TOLERANCE 0.04

static int compare(const void *a, const void *b)
{
  const double x = *(const double *)a;
  const double y = *(const double *)b;
  return (x > y) - (x < y);
}

CwStatus cw_eval_median_interval(CwTimes times, double *interval)
{
  *interval = NAN;
  if (times.n < 2) {
    return CW_OK;
  }
  const size_t n = times.n - 1;
  double *sorted = cw_new(n, sizeof *sorted);
  if (!sorted) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n; i++) {
    sorted[i] = times.time_s[i + 1] - times.time_s[i];
  }
  qsort(sorted, n, sizeof *sorted, compare);
  *interval = (sorted[(n - 1) / 2] + sorted[n / 2]) / 2;
  free(sorted);
  return CW_OK;
}

static CwStatus tempo_of(CwTimes times, double *per_min)
{
  double interval_s = 0;
  const CwStatus status = cw_eval_median_interval(times, &interval_s);
  *per_min = interval_s > 0 ? 60 / interval_s : (double)NAN;
  return status;
}

CwStatus cw_eval_tempo(CwTimes truth, CwTimes found, CwTempoScore *score)
{
  static const double ratio[] = {1, 2, 3, 1.0 / 2, 1.0 / 3};
  *score = (CwTempoScore){0};
  CwStatus status = tempo_of(truth, &score->true_per_min);
  if (status == CW_OK) {
    status = tempo_of(found, &score->found_per_min);
  }
  for (size_t i = 0; i < sizeof ratio / sizeof ratio[0]; i++) {
    const double wanted = ratio[i] * score->true_per_min;
    const bool within = fabs(score->found_per_min - wanted) <= TOLERANCE * wanted; // not with NaN
    score->within = score->within || (within && i == 0);
    score->within_any = score->within_any || within;
  }
  return status;
}
