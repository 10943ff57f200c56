// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/lengths.h"

#include <math.h>
#include <stdbool.h>

#include "countwright/features.h"
#include "pulse/window.h"

#define STRONG 0.65F  // onset strength of an attack that ends what sounds before it
#define BEGINS 0.5F   // onset strength from which something begins here
#define NEAREST 6     // frames: what comes sooner is the same attack
#define EARLY 3       // frames: an attack is felt so much before it
#define SHORTEST 8.0F // frames: lengths beyond these are taken for these
#define LONGEST 200.0F
#define AROUND_S 6.0 // lengths are compared with those this near on each side
#define MOST 1.5F

static bool is_attack(const float *strength, size_t n, size_t i)
{
  const float x = strength[i];
  return x > STRONG && (i == 0 || x >= strength[i - 1]) && (i + 1 >= n || x > strength[i + 1]);
}

void cw_lengths(const float *strength, size_t n, float *length, float *const work[2])
{
  float *weight = work[0];
  float *weighted = work[1];
  size_t next = n + (size_t)LONGEST;
  size_t here = n; // the attack that begins at this frame, or a little after it
  for (size_t i = n; i-- > 0;) {
    if (i + NEAREST < n && is_attack(strength, n, i + NEAREST)) {
      next = i + NEAREST;
    }
    here = is_attack(strength, n, i) ? i : here;
    const bool begins = here < n && here - i <= EARLY;
    length[i] = begins && here > i ? length[here] : logf(fminf(fmaxf((float)(next - i), SHORTEST), LONGEST));
    weight[i] = strength[i] * strength[i];
    weighted[i] = weight[i] * length[i];
  }
  const size_t reach = (size_t)(AROUND_S * CW_FEATURE_RATE_HZ);
  CwWindow weights = {0, 0, 0};
  CwWindow lengths = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    const double sum = cw_window_mean(&weights, weight, n, i, reach, false);
    const double mean = cw_window_mean(&lengths, weighted, n, i, reach, false) / fmax(sum, 1e-9);
    const float longer = sum > 1e-6 ? length[i] - (float)mean : 0.0F;
    length[i] = fminf(fmaxf(longer, -MOST), MOST) * fminf(strength[i] / BEGINS, 1.0F);
  }
}
