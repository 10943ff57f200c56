// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/place.h"

#include <math.h>

#include "lineup/pins.h"
#include "pulse/refine.h"

CwStatus cw_place_finely(const CwFeatures *features, const CwPlan *plan, size_t n, double likely_s, bool on_attacks,
                         double *time_s, double *end_s)
{
  for (size_t i = 0; i < n && on_attacks; i++) {
    if (plan->count[i].on_beat && isnan(plan->count[i].pin_s)) {
      const double refined = cw_refine_time(features, time_s[i]);
      time_s[i] = i == 0 || refined > time_s[i - 1] + 0.02 ? refined : time_s[i];
    }
  }
  for (size_t i = 0; i < n; i++) {
    size_t back = i;
    while (back > 0 && i - back < 4 && !cw_plan_is_cut(plan, back - 1)) {
      back--;
    }
    const double count_s = back < i ? (time_s[i] - time_s[back]) / (double)(i - back) : likely_s;
    end_s[i] = cw_plan_is_cut(plan, i) ? time_s[i] + count_s : time_s[i + 1];
  }
  end_s[n - 1] = fmin(end_s[n - 1], features->duration_s);
  return cw_pins_obey(plan, time_s, end_s);
}
