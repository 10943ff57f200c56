// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase/rows.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"

#define ROWS_A_SECOND ((double)CW_FEATURE_RATE_HZ / CW_SLOW_STEP)

/// Mean rows of chroma and timbre during a count.
static void mean_rows(const CwFeatures *f, const CwCount *count, float *row)
{
  size_t first = (size_t)(fmax(count->time_s, 0.0) * ROWS_A_SECOND + 0.5);
  size_t end = (size_t)(fmax(count->end_s, 0.0) * ROWS_A_SECOND + 0.5);
  end = end > first ? end : first + 1;
  memset(row, 0, CW_ROW_WIDTH * sizeof *row);
  for (size_t i = first; i < end && i < f->n_slow; i++) {
    for (size_t k = 0; k < 12; k++) {
      row[k] += f->chroma[i * 12 + k] / (float)(end - first);
    }
    for (size_t k = 0; k < CW_TIMBRE_BANDS; k++) {
      row[12 + k] += f->timbre[i * CW_TIMBRE_BANDS + k] / (float)(end - first);
    }
  }
}

/// Take the mean over all rows off columns [from, to), then bring every row's part to length 1.
static void sharpen(float *row, size_t n, size_t from, size_t to)
{
  for (size_t k = from; k < to; k++) {
    double mean = 0;
    for (size_t i = 0; i < n; i++) {
      mean += (double)row[i * CW_ROW_WIDTH + k] / (double)n;
    }
    for (size_t i = 0; i < n; i++) {
      row[i * CW_ROW_WIDTH + k] -= (float)mean;
    }
  }
  for (size_t i = 0; i < n; i++) {
    double square = 0;
    for (size_t k = from; k < to; k++) {
      square += (double)row[i * CW_ROW_WIDTH + k] * (double)row[i * CW_ROW_WIDTH + k];
    }
    const float scale = square > 1e-12 ? (float)(1.0 / sqrt(square)) : 0.0F;
    for (size_t k = from; k < to; k++) {
      row[i * CW_ROW_WIDTH + k] *= scale;
    }
  }
}

void cw_standardise(double *x, size_t n)
{
  double mean = 0;
  double square = 0;
  for (size_t i = 0; i < n; i++) {
    mean += x[i] / (double)n;
    square += x[i] * x[i] / (double)n;
  }
  const double spread = sqrt(fmax(square - mean * mean, 1e-12));
  for (size_t i = 0; i < n; i++) {
    x[i] = (x[i] - mean) / spread;
  }
}

float *cw_rows_make(const CwFeatures *features, const CwCount *count, size_t n)
{
  float *row = cw_new(n * CW_ROW_WIDTH, sizeof *row);
  if (!row) {
    return NULL;
  }
  for (size_t i = 0; i < n; i++) {
    mean_rows(features, &count[i], row + i * CW_ROW_WIDTH);
  }
  sharpen(row, n, 0, CW_ROW_CHROMA);
  sharpen(row, n, CW_ROW_CHROMA, CW_ROW_WIDTH);
  return row;
}
