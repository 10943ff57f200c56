// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "countwright/phrases.h"

static double dot(const float *a, const float *b, size_t width)
{
  double sum = 0;
  for (size_t i = 0; i < width; i++) {
    sum += (double)a[i] * (double)b[i];
  }
  return sum;
}

static double weight(size_t distance, size_t half, bool taper)
{
  const double x = ((double)distance + 0.5) / (double)half;
  return taper ? exp(-2.0 * x * x) : 1.0;
}

/// The kernel centred on the boundary before row `at`; rows outside count for nothing.
static double novelty_at(const float *vector, size_t n, size_t width, size_t half, bool taper, size_t at)
{
  const size_t begin = at > half ? at - half : 0;
  const size_t end = at + half < n ? at + half : n;
  double sum = 0;
  for (size_t i = begin; i < end; i++) {
    const double wi = weight(i < at ? at - 1 - i : i - at, half, taper);
    for (size_t j = begin; j < end; j++) {
      const double wj = weight(j < at ? at - 1 - j : j - at, half, taper);
      const double sign = (i < at) == (j < at) ? 1.0 : -1.0;
      sum += sign * wi * wj * dot(vector + i * width, vector + j * width, width);
    }
  }
  return sum;
}

void cw_novelty(const float *vector, size_t n, size_t width, size_t half, bool taper, double *novelty)
{
  if (n > 0) {
    novelty[0] = 0;
  }
  for (size_t i = 1; i < n; i++) {
    novelty[i] = novelty_at(vector, n, width, half, taper, i);
  }
}
