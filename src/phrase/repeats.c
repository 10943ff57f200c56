// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase/repeats.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "phrase/rows.h"

/// Sums of likeness: value i is over the counts before i, each against the count `lag` later.
static void sum_likeness(const float *row, size_t n, size_t lag, double *sum)
{
  sum[0] = 0;
  for (size_t i = 0; i + lag < n; i++) {
    double alike = 0;
    for (size_t k = 0; k < CW_ROW_CHROMA; k++) {
      alike += (double)row[i * CW_ROW_WIDTH + k] * (double)row[(i + lag) * CW_ROW_WIDTH + k];
    }
    sum[i + 1] = sum[i] + alike;
  }
}

/// A phrase after count i is alike to what comes `lag` later and the phrase before it is not, or the other way round:
/// both places are an edge.
static void add_edges(const double *sum, size_t n, size_t lag, size_t phrase, double *edge)
{
  for (size_t i = phrase; i + lag + phrase <= n; i++) {
    const double step = (sum[i + phrase] - 2 * sum[i] + sum[i - phrase]) / (double)phrase;
    edge[i] += step * step;
    edge[i + lag] += step * step;
  }
}

CwStatus cw_repeats_measure(const CwFeatures *features, const CwCount *count, size_t n, unsigned usual, double *edge)
{
  float *row = cw_rows_make(features, count, n);
  double *sum = cw_new(n + 1, sizeof *sum);
  const bool good = row && sum;
  if (good) {
    memset(edge, 0, n * sizeof *edge);
    for (size_t phrases = 2; phrases <= 8; phrases *= 2) {
      const size_t lag = phrases * usual;
      if (lag < n) {
        sum_likeness(row, n, lag, sum);
        add_edges(sum, n, lag, usual, edge);
      }
    }
    cw_standardise(edge, n);
  }
  free(row);
  free(sum);
  return good ? CW_OK : CW_ERR_NO_MEM;
}
