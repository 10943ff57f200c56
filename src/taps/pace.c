// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/pace.h"

#include <stdlib.h>

#define TAPS_NEAR 4 // on each side, of which the pace is the middle one
#define QUICKEST_S 0.1

static int by_value(const void *a, const void *b)
{
  const double left = *(const double *)a;
  const double right = *(const double *)b;
  return (left > right) - (left < right);
}

double cw_taps_middle(double *value, size_t n)
{
  qsort(value, n, sizeof *value, by_value);
  return n > 0 ? value[n / 2] : 0.0;
}

/// Median of the intervals of taps near tap `i`.
static double interval_near(const double *tap_s, size_t n, size_t i)
{
  double interval[2 * TAPS_NEAR];
  size_t n_intervals = 0;
  const size_t from = i > TAPS_NEAR ? i - TAPS_NEAR : 0;
  for (size_t k = from; k + 1 < n && k < i + TAPS_NEAR; k++) {
    if (tap_s[k + 1] - tap_s[k] > QUICKEST_S) {
      interval[n_intervals++] = tap_s[k + 1] - tap_s[k];
    }
  }
  return cw_taps_middle(interval, n_intervals);
}

void cw_taps_hint(const double *tap_s, size_t n_taps, double beats, unsigned metre, CwEarHint *hint, size_t rows)
{
  const unsigned char bar = (unsigned char)(metre <= 6 ? metre : 0);
  for (size_t row = 0, i = 0; row < rows; row++) {
    while (i + 1 < n_taps && tap_s[i + 1] <= (double)row / CW_HEARD_RATE_HZ) {
      i++;
    }
    hint[row] = (CwEarHint){(float)(interval_near(tap_s, n_taps, i) / beats), bar};
  }
}
