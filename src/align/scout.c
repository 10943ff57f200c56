// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/scout.h"

#include <math.h>
#include <string.h>

#include "countwright/audio.h"

static const double pi = 3.14159265358979323846;
static const double lowest_hz = 200.0;
static const double highest_hz = 2000.0;
/// Peaks weaker than this against the strongest of their look do not count (-40 dB).
static const float weakest_peak = 1e-4F;

CwStatus cw_scout_init(CwScout *scout)
{
  memset(scout, 0, sizeof *scout);
  return cw_align_spectrum_init(&scout->spectrum, 2 * CW_SCOUT_REACH, 2 * CW_SCOUT_REACH);
}

/// Bin of a peak at bin `k`, by a parabola through the logarithms of three bins.
static double peak_bin(const float *power, size_t k)
{
  const double left = log(power[k - 1] + 1e-20);
  const double middle = log(power[k] + 1e-20);
  const double right = log(power[k + 1] + 1e-20);
  const double bend = left - 2 * middle + right;
  return (double)k + (bend < 0 ? 0.5 * (left - right) / bend : 0.0);
}

void cw_scout_look(CwScout *scout, const float *centre)
{
  cw_align_spectrum_take(&scout->spectrum, centre);
  const float *power = scout->spectrum.power;
  const double bin_hz = CW_ANALYSIS_RATE_HZ / (2.0 * CW_SCOUT_REACH);
  float loudest = 1e-16F;
  for (size_t k = 1; k < (size_t)(3000.0 / bin_hz); k++) {
    loudest = fmaxf(loudest, power[k]);
  }
  const long down_db = lround(-10.0 * log10((double)loudest));
  const long slot = down_db < 0 ? 0 : down_db >= CW_SCOUT_LEVELS ? CW_SCOUT_LEVELS - 1 : down_db;
  scout->level[slot] += 1.0;
  scout->looks += 1.0;
  for (size_t k = (size_t)(lowest_hz / bin_hz); k < (size_t)(highest_hz / bin_hz); k++) {
    if (power[k] > power[k - 1] && power[k] >= power[k + 1] && power[k] > weakest_peak * loudest) {
      const double notes = 12.0 * log2(peak_bin(power, k) * bin_hz / 440.0);
      const double weight = sqrt((double)power[k]);
      scout->tuning_re += weight * cos(2 * pi * notes);
      scout->tuning_im += weight * sin(2 * pi * notes);
    }
  }
}

double cw_scout_tuning(const CwScout *scout)
{
  if (scout->tuning_re == 0 && scout->tuning_im == 0) {
    return 0;
  }
  return 50.0 / pi * atan2(scout->tuning_im, scout->tuning_re);
}

float cw_scout_reference(const CwScout *scout)
{
  double above = 0;
  for (int slot = 0; slot < CW_SCOUT_LEVELS; slot++) {
    above += scout->level[slot];
    if (above > 0.05 * scout->looks) {
      return (float)pow(10.0, -0.1 * slot);
    }
  }
  return 1.0F;
}

void cw_scout_free(CwScout *scout)
{
  cw_align_spectrum_free(&scout->spectrum);
}
