// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/by_pins.h"

#include <math.h>
#include <stddef.h>

#include "countwright/notebook.h"

static const double usual_beat_s = 0.5; // where a single pin tells no tempo

/// Where pins put a count, about where a pin within it does, or NaN.
static double anchor(const CwPlanCount *count)
{
  if (isnan(count->pin_s) && count->part > 0) {
    return count->part_s - count->part * count->beats * usual_beat_s;
  }
  return count->pin_s;
}

/// Seconds of a beat on the whole.
static double mean_beat(const CwPlan *plan, size_t first, size_t last)
{
  double beats = 0;
  for (size_t i = first; i < last; i++) {
    beats += plan->count[i].beats;
  }
  return beats > 0 ? (anchor(&plan->count[last]) - anchor(&plan->count[first])) / beats : usual_beat_s;
}

void cw_times_by_pins(const CwPlan *plan, double *time_s)
{
  size_t first = CW_NONE;
  size_t last = CW_NONE;
  for (size_t i = 0; i < plan->n; i++) {
    time_s[i] = anchor(&plan->count[i]);
    if (isnan(time_s[i])) {
      continue;
    }
    first = first == CW_NONE ? i : first;
    if (last != CW_NONE) {
      const double beat_s = mean_beat(plan, last, i);
      for (size_t k = last + 1; k < i; k++) {
        time_s[k] = time_s[k - 1] + beat_s * plan->count[k - 1].beats;
      }
    }
    last = i;
  }
  double beat_s = mean_beat(plan, first, last);
  for (size_t i = last + 1; i < plan->n; i++) {
    time_s[i] = time_s[i - 1] + beat_s * plan->count[i - 1].beats;
  }
  double beats = 0;
  for (size_t i = 0; i < first; i++) {
    beats += plan->count[i].beats;
  }
  beat_s = beats > 0 ? fmin(beat_s, time_s[first] / beats) : 0; // not before the recording begins
  for (size_t i = first; i-- > 0;) {
    time_s[i] = time_s[i + 1] - beat_s * plan->count[i].beats;
  }
}
