// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "eval/median.h"
#include "eval/scores.h"

#define PULSES_PER_S 100.0
#define WINDOW_OF_INTERVAL 0.2

/// Where the pulses of a train stand; times that fall on the same pulse make one.
typedef struct {
  double *at; ///< whole numbers, rising
  size_t n;
} Train;

static bool make_train(CwTimes times, double from_s, Train *train)
{
  train->at = cw_new(times.n, sizeof *train->at);
  for (size_t i = 0; train->at && i < times.n; i++) {
    const double at = ceil((times.time_s[i] - from_s) * PULSES_PER_S);
    if (train->n == 0 || at > train->at[train->n - 1]) {
      train->at[train->n++] = at;
    }
  }
  return train->at != NULL;
}

/// Pairs of pulses no further apart than `window`.
static size_t count_pairs(const Train *a, const Train *b, double window)
{
  size_t pairs = 0;
  size_t low = 0;
  size_t high = 0; // b from low up to, not including, high is within the window
  for (size_t i = 0; i < a->n; i++) {
    while (high < b->n && b->at[high] <= a->at[i] + window) {
      high++;
    }
    while (low < high && b->at[low] < a->at[i] - window) {
      low++;
    }
    pairs += high - low;
  }
  return pairs;
}

static CwStatus correlate(CwTimes truth, CwTimes found, const Train *true_train, const Train *found_train,
                          double *score)
{
  double interval = 0;
  const CwStatus status = cw_eval_median_interval((CwTimes){true_train->at, true_train->n}, &interval);
  if (status != CW_OK || isnan(interval)) {
    return status;
  }
  const double window = rint(WINDOW_OF_INTERVAL * interval); // halves to even, as numpy rounds
  const size_t most = truth.n > found.n ? truth.n : found.n;
  *score = (double)count_pairs(true_train, found_train, window) / (double)most;
  return CW_OK;
}

CwStatus cw_eval_p_score(CwTimes truth, CwTimes found, double *score)
{
  *score = 0;
  if (truth.n < 2 || found.n < 2) {
    return CW_OK;
  }
  const double from_s = fmin(truth.time_s[0], found.time_s[0]);
  Train true_train = {0};
  Train found_train = {0};
  CwStatus status = CW_ERR_NO_MEM;
  if (make_train(truth, from_s, &true_train) && make_train(found, from_s, &found_train)) {
    status = correlate(truth, found, &true_train, &found_train, score);
  }
  free(true_train.at);
  free(found_train.at);
  return status;
}
