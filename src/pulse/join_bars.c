// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/join_bars.h"

#include <math.h>

#define CLEAR_DIFFERENCE 0.7 // of accents, in spreads over the beats ...
#define CLEAR_RATIO 4.0      // ... and in standard errors
#define FEWEST_BARS 8

static double accent(const CwActivation *activation, const CwBeat *beat)
{
  const size_t i = (size_t)lround(beat->time_s * CW_FEATURE_RATE_HZ);
  return i < activation->n ? (double)activation->downbeat[i] : 0.0;
}

/// Mean and variance of the mean of the accents of every second bar from `first` on.
static void measure(const CwActivation *activation, const CwBeat *beat, size_t first, size_t end, unsigned metre,
                    double *mean, double *variance)
{
  double sum = 0;
  double square = 0;
  double n = 0;
  for (size_t i = first; i < end; i += 2 * metre) {
    const double a = accent(activation, &beat[i]);
    sum += a;
    square += a * a;
    n++;
  }
  *mean = sum / n;
  *variance = fmax(square / n - *mean * *mean, 1e-4) / n;
}

/// Join the bars of `metre` beats in [begin, end), of which `begin` is a downbeat, and the beats from `pick_up` on before
/// them.
static void join(const CwActivation *activation, CwBeat *beat, size_t pick_up, size_t begin, size_t end, unsigned metre)
{
  if (end - begin < (size_t)FEWEST_BARS * metre) {
    return;
  }
  double mean[2];
  double variance[2];
  measure(activation, beat, begin, end, metre, &mean[0], &variance[0]);
  measure(activation, beat, begin + metre, end, metre, &mean[1], &variance[1]);
  const double difference = fabs(mean[0] - mean[1]);
  if (difference < CLEAR_DIFFERENCE || difference < CLEAR_RATIO * sqrt(variance[0] + variance[1])) {
    return;
  }
  const size_t strong = mean[0] > mean[1] ? 0 : metre;
  for (size_t i = pick_up; i < end; i++) {
    beat[i].metre = 2 * metre;
    beat[i].position = (unsigned)((i + 4 * metre - begin - strong) % (2 * metre)) + 1;
  }
}

void cw_join_bars(const CwActivation *activation, unsigned metre, CwBeats *beats)
{
  size_t begin = 0;
  while (begin < beats->n) {
    const unsigned bar = beats->beat[begin].metre;
    size_t end = begin + 1;
    while (end < beats->n && beats->beat[end].metre == bar && !beats->beat[end].run_start &&
           beats->beat[end].position == beats->beat[end - 1].position % bar + 1) {
      end++;
    }
    size_t first = begin;
    while (first < end && beats->beat[first].position != 1) {
      first++;
    }
    if ((bar == 2 || bar == 3) && (metre == 0 || metre == 2 * bar)) {
      join(activation, beats->beat, begin, first, end, bar);
    }
    begin = end;
  }
}
