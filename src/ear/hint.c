// SPDX-License-Identifier: GPL-3.0-or-later
#include "ear/hint.h"

#include <math.h>

#define LOWEST (-2.25F) // of the period's binary logarithm
#define APART 0.35F
#define WIDTH 0.25F
enum { N_PERIODS = 16, N_BARS = 5, FEWEST_BEATS = 2 };
_Static_assert(N_PERIODS + N_BARS == CW_EAR_HINTS, "periods, then bars");

void cw_hint_values(CwEarHint hint, float *values)
{
  const float octaves = hint.period_s > 0 ? log2f(hint.period_s) : NAN;
  for (int i = 0; i < N_PERIODS; i++) {
    const float away = (octaves - (LOWEST + APART * (float)i)) / WIDTH;
    values[i] = hint.period_s > 0 ? expf(-0.5F * away * away) : 0.0F;
  }
  for (int i = 0; i < N_BARS; i++) {
    values[N_PERIODS + i] = hint.beats == FEWEST_BEATS + i ? 1.0F : 0.0F;
  }
}
