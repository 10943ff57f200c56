// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/refine.h"

#include <math.h>

#define REACH_S 0.05
#define BEFORE 4            // values (10 ms) before an attack ...
#define AFTER 2             // ... compared with those just after it ...
#define LASTING 8           // ... and with those a little longer after it
#define CLEAR_RISE 0.4      // in ln of amplitude
#define DISTANCE_COST 0.012 // of the same, for each value of distance: the nearest of equals

/// Mean of the attack envelope over `n` values from `from`; outside the recording it is silent.
static double mean_from(const CwFeatures *f, long from, long n)
{
  double sum = 0;
  for (long i = from; i < from + n; i++) {
    if (i >= 0 && (size_t)i < f->n_attack) {
      sum += (double)f->attack[i];
    }
  }
  return sum / (double)n;
}

/// How much the envelope rises at value `i`, in ln of amplitude.
static double rise_at(const CwFeatures *f, long i, double floor)
{
  const double before = mean_from(f, i - BEFORE, BEFORE) + floor;
  const double sharp = log((mean_from(f, i, AFTER) + floor) / before);
  const double lasting = log((mean_from(f, i, LASTING) + floor) / before);
  return 0.5 * (sharp + lasting); // a peak of noise does not last
}

double cw_refine_time(const CwFeatures *f, double time_s)
{
  const long middle = lround(time_s * CW_ATTACK_RATE_HZ);
  const long reach = lround(REACH_S * CW_ATTACK_RATE_HZ);
  double floor = 1e-5;
  for (long i = middle - 4 * reach; i <= middle + 4 * reach; i += BEFORE) {
    floor = fmax(floor, 0.02 * mean_from(f, i, BEFORE)); // what is far below the music is silence
  }
  double best = CLEAR_RISE;
  double found = time_s;
  for (long i = middle - reach; i <= middle + reach; i++) {
    const double rise = rise_at(f, i, floor);
    const double score = rise - DISTANCE_COST * fabs((double)(i - middle));
    // a rise that goes on rising belongs to an attack farther off
    if (score > best && rise >= rise_at(f, i - 1, floor) && rise >= rise_at(f, i + 1, floor)) {
      best = score;
      found = ((double)i + 0.5) / CW_ATTACK_RATE_HZ; // somewhere in that value's time
    }
  }
  return fmax(found, 0.0);
}
