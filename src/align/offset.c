// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/offset.h"

#include <math.h>
#include <stdbool.h>

/// Attacks are a pair when they are this near by the guide and at least so strong.
static const double reach_s = 0.08;
static const float weakest = 0.1F;
enum { FEWEST = 20 };

/// Less than this between the mean swells is the same.
static const double least_s = 0.008;

/// An attack that swells slowly is also found later: by so much of the time from then to half strength. Notes made to
/// swell evenly over 5 to 215 ms give 0.8; sampled strings, winds and orchestras against piano 1.2, in 70 pairs of
/// recordings by scripts/training/pairs.py, as their notes are soft at first.
static const double late_share = 1.2;

/// The mean so far.
typedef struct {
  double sum_s;
  size_t n;
} Differences;

static bool clear(const CwAttack *attack)
{
  return attack->swell_s >= 0 && attack->strength >= weakest;
}

/// The strongest clear attack of the semitone near a time; NULL when there is none.
static const CwAttack *partner(const CwAttacks *attacks, int semitone, double time_s)
{
  const CwAttack *best = NULL;
  for (size_t k = cw_attacks_from(attacks, time_s - reach_s); k < attacks->n; k++) {
    const CwAttack *attack = &attacks->attack[k];
    if (attack->time_s > time_s + reach_s) {
      break;
    }
    if (attack->semitone == semitone && clear(attack) && (!best || attack->strength > best->strength)) {
      best = attack;
    }
  }
  return best;
}

static void collect(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, const CwGuide *guide,
                    Differences *differences)
{
  const double end_s = (double)(guide->first + guide->n) / CW_ALIGN_RATE_HZ;
  for (size_t k = cw_attacks_from(&a->attacks, (double)guide->first / CW_ALIGN_RATE_HZ); k < a->attacks.n; k++) {
    const CwAttack *attack = &a->attacks.attack[k];
    if (attack->time_s >= end_s) {
      break;
    }
    const CwAttack *other =
        clear(attack) ? partner(&b->attacks, attack->semitone + transpose, cw_guide_at(guide, attack->time_s)) : NULL;
    if (!other) {
      continue;
    }
    differences->sum_s += (double)other->swell_s - (double)attack->swell_s;
    differences->n++;
  }
}

void cw_offset_estimate(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, const CwGuide *guide,
                        size_t n, CwOffset *offset)
{
  Differences differences = {0};
  for (size_t g = 0; g < n; g++) {
    collect(a, b, transpose, &guide[g], &differences);
  }
  const double mean_s = differences.n >= FEWEST ? differences.sum_s / (double)differences.n : 0.0;
  *offset = (CwOffset){0};
  if (fabs(mean_s) >= least_s) {
    *offset = (CwOffset){late_share * mean_s, (1 + late_share) * mean_s};
  }
}
