// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/expect.h"

#include <math.h>
#include <stdbool.h>

#include "lineup/noted.h"

#define LEAST_STRETCH 8 // counts from pin to pin that tell how long one is
#define MOST_OFF 0.7    // of ln(seconds of a count in a stretch), from the whole: about double or half tempo

/// Beats of a count, more where it is slow by the notes.
static double expected_beats(const CwPlanCount *count)
{
  return count->beats * exp(count->ln_pace);
}

/// How many counts of the usual pace the counts [from, to) are as long as.
static double usual_counts(const CwPlan *plan, size_t from, size_t to)
{
  double n = 0;
  for (size_t i = from; i < to; i++) {
    n += exp(plan->count[i].ln_pace);
  }
  return n;
}

void cw_expect_times(const CwPlan *plan, const CwSound *sound, double *time_s)
{
  double total = 0;
  for (size_t i = 0; i < plan->n; i++) {
    total += expected_beats(&plan->count[i]);
  }
  double left_beats = 0;
  double left_s = cw_sound_begin(sound);
  double beats = 0;
  size_t done = 0;
  for (size_t i = 0; i <= plan->n; i++) {
    const bool end = i == plan->n;
    if (!end && isnan(plan->count[i].pin_s)) {
      beats += expected_beats(&plan->count[i]);
      continue;
    }
    const double right_s = end ? fmax(cw_sound_end(sound), left_s + 0.2 * (total - left_beats)) : plan->count[i].pin_s;
    if (left_beats <= 0 && left_s > right_s - 0.2 * beats) { // pinned before anything sounds
      left_s = fmax(0.0, right_s - 0.2 * beats);
    }
    const double rate = beats > left_beats ? (right_s - left_s) / (beats - left_beats) : 0.0;
    for (double at = left_beats; done < i; at += expected_beats(&plan->count[done]), done++) {
      time_s[done] = left_s + rate * (at - left_beats);
    }
    left_beats = beats;
    left_s = right_s;
    beats += end ? 0.0 : expected_beats(&plan->count[i]);
  }
}

double cw_likely_count(const CwPlan *plan, const CwSound *sound)
{
  const double end_s = (double)sound->n / CW_FEATURE_RATE_HZ;
  size_t first = 0;
  size_t last = plan->n;
  while (first < plan->n && isnan(plan->count[first].pin_s)) {
    first++;
  }
  while (last > 0 && isnan(plan->count[last - 1].pin_s)) {
    last--;
  }
  if (last == 0) {
    return cw_noted_count(plan, fmax(cw_sound_between(sound, 0.0, end_s), 1.0) / usual_counts(plan, 0, plan->n));
  }
  const double first_s = plan->count[first].pin_s;
  const double last_s = plan->count[last - 1].pin_s;
  if (last - 1 - first >= 8) {
    return fmax(cw_sound_between(sound, first_s, last_s), 1.0) / usual_counts(plan, first, last - 1);
  }
  const double after_s = cw_sound_between(sound, first_s, end_s) / usual_counts(plan, first, plan->n);
  const double before_s = first >= 8 ? cw_sound_between(sound, 0.0, first_s) / usual_counts(plan, 0, first) : after_s;
  return cw_noted_count(plan, fmax(fmin(before_s, after_s), 1.0 / (double)plan->n));
}

/// Set how slow the counts [from, to) are that lie between `from_s` and `to_s`.
static void set_stretch(CwPlan *plan, const CwSound *sound, size_t from, size_t to, double from_s, double to_s,
                        double likely_s)
{
  if (to - from < LEAST_STRETCH) {
    return;
  }
  const double sound_s = fmax(cw_sound_between(sound, from_s, to_s), 1.0);
  const double off = log(sound_s / usual_counts(plan, from, to) / likely_s);
  for (size_t i = from; i < to; i++) {
    plan->count[i].ln_stretch = fmin(fmax(off, -MOST_OFF), MOST_OFF);
  }
}

void cw_expect_stretches(CwPlan *plan, const CwSound *sound, double likely_s)
{
  bool any = false;
  size_t left = 0;
  double left_s = 0;
  for (size_t i = 0; i < plan->n; i++) {
    const double pin_s = plan->count[i].pin_s;
    if (!isnan(pin_s)) {
      set_stretch(plan, sound, left, i, left_s, pin_s, likely_s);
      any = true;
      left = i;
      left_s = pin_s;
    }
  }
  if (any) {
    set_stretch(plan, sound, left, plan->n, left_s, (double)sound->n / CW_FEATURE_RATE_HZ, likely_s);
  }
}
