// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/taps_of.h"

#include <math.h>
#include <stdint.h>

#include "unit/random.h"

CwTaps cw_hard_taps(const CwHardTruth *truth)
{
  CwTaps taps = {.time_s = cw_must_new(truth->n_counts, sizeof *taps.time_s)};
  uint64_t seed = 2024;
  double before_s = 0;
  for (size_t i = 0; i < truth->n_counts; i++) {
    const double astray_s = 0.08 * (random_share(&seed) + random_share(&seed) - 1); // a triangle, 33 ms deep
    const double time_s = fmax(before_s, truth->count_s[i] + CW_TAP_DELAY_S + astray_s);
    if (random_share(&seed) < 1.0 / 30)
      continue;
    taps.time_s[taps.n++] = time_s;
    before_s = time_s;
  }
  return taps;
}
