// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdint.h>
#include <string.h>

#include "ear/matrix.h"

// exp(x) = 2^k exp(r), k whole, r within ln(2) / 2 of 0. ln(2) in two parts, so that r is exact (Cody and Waite 1980).
#define LOG2_E 1.44269504F
#define LN2_HIGH 0.693359375F
#define LN2_LOW (-2.12194440e-4F)
#define LEAST (-30.0F) // below it exp(x) - 1 is -1 for all a float can tell

/// Without calls, and what it chooses between is worked out both ways, so that a loop of it becomes vectors; GCC does that
/// only where nobody traps comparisons (see CMakeLists.txt).
static inline float elu(float value)
{
  float x = value < 0.0F ? value : 0.0F;
  x = x > LEAST ? x : LEAST;
  const int32_t k = (int32_t)(x * LOG2_E - 0.5F); // to the nearest, as nothing is above 0
  const float whole = (float)k;
  const float r = x - whole * LN2_HIGH - whole * LN2_LOW;
  // (exp(r) - 1) / r to 1/7!, the Taylor series: the next term is below 1e-8 here
  float series = 1.0F / 5040.0F;
  series = series * r + 1.0F / 720.0F;
  series = series * r + 1.0F / 120.0F;
  series = series * r + 1.0F / 24.0F;
  series = series * r + 1.0F / 6.0F;
  series = series * r + 0.5F;
  series = series * r + 1.0F;
  const int32_t bits = (k + 127) * (1 << 23);
  float power;
  memcpy(&power, &bits, sizeof power);
  const float below = power * (series * r) + (power - 1.0F);
  return value > 0.0F ? value : below;
}

void cw_elu(float *restrict values, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    values[i] = elu(values[i]);
  }
}
