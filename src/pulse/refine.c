// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/refine.h"

#include <math.h>

#define REACH_S 0.035
#define SIDE 4              // values (10 ms) compared on each side of an attack
#define CLEAR_RISE 0.9      // in ln of amplitude
#define DISTANCE_COST 0.012 // of the same, for each value of distance: the nearest of equals

/// Mean of the attack envelope over `SIDE` values from `from`; outside the recording it is silent.
static double mean_from(const CwFeatures *f, long from)
{
  double sum = 0;
  for (long i = from; i < from + SIDE; i++) {
    if (i >= 0 && (size_t)i < f->n_attack) {
      sum += (double)f->attack[i];
    }
  }
  return sum / SIDE;
}

double cw_refine_time(const CwFeatures *f, double time_s)
{
  const long middle = lround(time_s * CW_ATTACK_RATE_HZ);
  const long reach = lround(REACH_S * CW_ATTACK_RATE_HZ);
  double floor = 1e-5;
  for (long i = middle - 4 * reach; i <= middle + 4 * reach; i += SIDE) {
    floor = fmax(floor, 0.02 * mean_from(f, i)); // what is far below the music is silence
  }
  double best = CLEAR_RISE;
  double found = time_s;
  for (long i = middle - reach; i <= middle + reach; i++) {
    const double rise = log((mean_from(f, i) + floor) / (mean_from(f, i - SIDE) + floor));
    const double score = rise - DISTANCE_COST * fabs((double)(i - middle));
    if (score > best) {
      best = score;
      found = (double)i / CW_ATTACK_RATE_HZ;
    }
  }
  return fmax(found, 0.0);
}
