// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/cost.h"

enum { PART = 256 };

static const float attack_weight = 0.5F;

void cw_cost(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n, float harmony_weight, float *cost)
{
  float likeness[PART];
  for (size_t done = 0; done < n; done += PART) {
    const size_t part = n - done < PART ? n - done : PART;
    float *out = cost + done;
    cw_frames_likeness(one, i, many, j + done, part, likeness);
    cw_frames_attack_distance(one, i, many, j + done, part, out);
    for (size_t k = 0; k < part; k++) {
      out[k] = harmony_weight * (1.0F - likeness[k]) + attack_weight * out[k];
    }
  }
}
