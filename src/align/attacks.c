// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/attacks.h"

#include <math.h>
#include <string.h>

/// How strongly loudness is compressed: so much that the first beginning of a slow attack counts, not its middle.
static const float compression = 1000.0F;
/// A peak counts above this share of the highest within half a second to either side.
static const float weakest_share = 0.1F;
static const float weakest_rise = 0.2F;

static float *rise_of(CwAttacks *attacks, size_t frame)
{
  return attacks->rise[frame % CW_ATTACKS_KEPT];
}

/// The rise across the frame before `n`, from the frame two before it.
static void put_in(CwAttacks *attacks, const float *attack, float reference)
{
  const size_t n = attacks->n;
  float *before = attacks->loudness[n % 2];
  float *rise = rise_of(attacks, n + CW_ATTACKS_KEPT - 1);
  float highest = 0;
  for (size_t i = 0; i < CW_N_SEMITONES; i++) {
    const float loudness = log1pf(compression * attack[i] / reference);
    rise[i] = n < 2 ? 0.0F : fmaxf(0.0F, loudness - before[i]);
    highest = fmaxf(highest, rise[i]);
    before[i] = loudness;
  }
  attacks->highest[(n + CW_ATTACKS_KEPT - 1) % CW_ATTACKS_KEPT] = highest;
  attacks->n++;
}

static void fold_peaks(CwAttacks *attacks, size_t frame, float threshold, float folded[12])
{
  const float *before = rise_of(attacks, frame + CW_ATTACKS_KEPT - 1);
  const float *here = rise_of(attacks, frame);
  const float *after = rise_of(attacks, frame + 1);
  memset(folded, 0, 12 * sizeof *folded);
  for (size_t i = 0; i < CW_N_SEMITONES; i++) {
    if (here[i] > threshold && here[i] > before[i] && here[i] >= after[i]) {
      folded[(CW_LOWEST_NOTE + i) % 12] += here[i];
    }
  }
}

void cw_attacks_next(CwAttacks *attacks, const float attack[CW_N_SEMITONES], float reference, float folded[12])
{
  put_in(attacks, attack, reference);
  if (attacks->n <= CW_ATTACKS_LAG) {
    return;
  }
  const size_t frame = attacks->n - 1 - CW_ATTACKS_LAG;
  float highest = 0;
  for (size_t i = 0; i < 2 * CW_ATTACKS_LAG; i++) {
    // frames before the first were never written and are zero
    highest = fmaxf(highest, attacks->highest[(frame + CW_ATTACKS_KEPT - CW_ATTACKS_LAG + 1 + i) % CW_ATTACKS_KEPT]);
  }
  fold_peaks(attacks, frame, fmaxf(weakest_share * highest, weakest_rise), folded);
}
