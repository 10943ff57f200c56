// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/fit.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/taps.h"

// Delays looked for, and which are usual: a guess from how people tap, no source.
#define EARLIEST_S (-0.2)
#define LATEST_S 0.4
#define DELAY_STEP_S 0.005
#define USUAL_DELAY_S 0.075
#define USUAL_SPREAD_S 0.1

// What is believed of the spread beforehand, as if so many taps had it.
#define LIKELY_SPREAD_S 0.04
#define LIKELY_TAPS 20.0
#define MOST_SPREAD_S 0.1
#define MOST_SHIFT_S 0.08 // by which the delay may differ from the first guess
#define ROUNDS 4
#define STRAY_SPREADS 3.0 // a tap so far off tells nothing of the others
#define REACH_SPREADS 3.0
#define LEAST_REACH_S 0.15
#define MOST_REACH_S 0.5
#define PULL_SPREADS 2.5
#define GAP_REACH 0.12 // of the time between taps: counts in between may be so far off

/// Evidence blurred by the taps' spread, as a likelihood.
static void blur(const CwTapSight *sight, double spread_s, float *out)
{
  const long reach = lround(3.0 * spread_s * CW_FEATURE_RATE_HZ);
  for (long i = 0; i < (long)sight->n; i++) {
    double sum = 0;
    double weight = 0;
    for (long k = -reach; k <= reach; k++) {
      const double off = (double)k / CW_FEATURE_RATE_HZ / spread_s;
      const double share = exp(-0.5 * off * off);
      const bool inside = i + k >= 0 && i + k < (long)sight->n;
      weight += share;
      sum += inside ? share * exp((double)sight->beat[i + k]) : 0.0;
    }
    out[i] = (float)log(sum / weight + 1e-3);
  }
}

CwStatus cw_taps_guess_delay(const double *tap_s, size_t n, const CwTapSight *sight, double spread_s, double *delay_s)
{
  float *likely = cw_new(sight->n, sizeof *likely);
  if (!likely) {
    return CW_ERR_NO_MEM;
  }
  blur(sight, spread_s, likely);
  double best = -INFINITY;
  for (double delay = EARLIEST_S; delay <= LATEST_S; delay += DELAY_STEP_S) {
    const double off = (delay - USUAL_DELAY_S) / USUAL_SPREAD_S;
    double score = -0.5 * off * off;
    for (size_t i = 0; i < n; i++) {
      const double frame = round((tap_s[i] - delay) * CW_FEATURE_RATE_HZ);
      score += frame >= 0 && frame < (double)sight->n ? (double)likely[(size_t)frame] : 0.0;
    }
    if (score > best) {
      best = score;
      *delay_s = delay;
    }
  }
  free(likely);
  return CW_OK;
}

void cw_taps_pull(const double *tap_s, size_t n, const CwTapSight *sight, const CwTapHabit *habit, double *pulled_s)
{
  const long reach = lround(PULL_SPREADS * habit->spread_s * CW_FEATURE_RATE_HZ);
  for (size_t i = 0; i < n; i++) {
    const double about_s = tap_s[i] - habit->delay_s;
    const long middle = lround(about_s * CW_FEATURE_RATE_HZ);
    double sum = 0;
    double weight = 0;
    for (long frame = middle - reach; frame <= middle + reach; frame++) {
      if (frame >= 0 && (size_t)frame < sight->n) {
        const double time_s = (double)frame / CW_FEATURE_RATE_HZ;
        const double off = (time_s - about_s) / habit->spread_s;
        const double share = exp((double)sight->beat[frame] - 0.5 * off * off);
        weight += share;
        sum += share * time_s;
      }
    }
    pulled_s[i] = weight > 0 ? sum / weight + habit->delay_s : tap_s[i];
    pulled_s[i] = i > 0 ? fmax(pulled_s[i], pulled_s[i - 1]) : pulled_s[i];
  }
}

/// Beats from event `from` to event `to`; NaN across a hold.
static double beats_between(const CwTapEvent *event, size_t from, size_t to)
{
  double beats = 0;
  for (size_t i = from + 1; i <= to; i++) {
    beats = event[i].broken ? (double)NAN : beats + event[i].beats;
  }
  return beats;
}

/// Where event k would be half-way between tapped events `reach` before and after it; its own tap when these are not.
static double between(const CwTapEvent *event, size_t n, size_t k, size_t reach)
{
  const double own_s = event[k].tap_s;
  if (k < reach || k + reach >= n || isnan(event[k - reach].tap_s) || isnan(event[k + reach].tap_s)) {
    return own_s;
  }
  const double before = beats_between(event, k - reach, k);
  const double after = beats_between(event, k, k + reach);
  const double from_s = event[k - reach].tap_s;
  const double middle_s = from_s + (event[k + reach].tap_s - from_s) * before / (before + after);
  return isnan(middle_s) ? own_s : middle_s;
}

/// Seconds of a beat among up to eight known events beside `k`, which is known itself.
static double beat_near(const CwTapEvent *event, size_t n, size_t k, bool before)
{
  size_t far = k;
  size_t known = 0;
  for (size_t i = k; known < 8 && (before ? i-- > 0 : ++i < n);) {
    if (isnan(before ? beats_between(event, i, k) : beats_between(event, k, i))) {
      break;
    }
    if (!isnan(event[i].middle_s)) {
      far = i;
      known++;
    }
  }
  if (far == k) {
    return 0.5;
  }
  return fabs(event[k].middle_s - event[far].middle_s) /
         (before ? beats_between(event, far, k) : beats_between(event, k, far));
}

/// Middles of events [from, to) that nothing tells of, between known ones or beyond them.
static void bridge(CwTapEvent *event, size_t n, size_t from, size_t to)
{
  if (from == 0) {
    const double beat_s = beat_near(event, n, to, false);
    for (size_t i = to; i-- > 0;) {
      event[i].middle_s = event[i + 1].middle_s - beat_s * event[i + 1].beats;
    }
    return;
  }
  double beat_s = beat_near(event, n, from - 1, true);
  if (to < n) {
    double beats = 0;
    for (size_t i = from; i <= to; i++) {
      beats += event[i].beats;
    }
    const double even_s = (event[to].middle_s - event[from - 1].middle_s) / beats;
    bool broken = false;
    for (size_t i = from; i <= to; i++) {
      broken = broken || event[i].broken;
    }
    beat_s = broken ? fmin(beat_s, even_s) : even_s;
  }
  for (size_t i = from; i < to; i++) {
    event[i].middle_s = event[i - 1].middle_s + beat_s * event[i].beats;
  }
}

/// Where to look for each event. @return The longest time between two that are known.
static double set_middles(CwTapEvent *event, size_t n, double delay_s)
{
  for (size_t k = 0; k < n; k++) {
    event[k].middle_s = event[k].pin_s;
    if (isnan(event[k].pin_s) && !isnan(event[k].tap_s)) {
      event[k].middle_s =
          0.5 * event[k].tap_s + 0.3 * between(event, n, k, 1) + 0.2 * between(event, n, k, 2) - delay_s;
    }
  }
  double longest_s = 0;
  for (size_t k = 0, from = 0; k < n; k++) {
    if (isnan(event[k].middle_s)) {
      continue;
    }
    if (from < k) {
      bridge(event, n, from, k);
      longest_s = fmax(longest_s, event[k].middle_s - event[from > 0 ? from - 1 : 0].middle_s);
    }
    from = k + 1;
  }
  size_t end = n;
  while (end > 0 && isnan(event[end - 1].middle_s)) {
    end--;
  }
  if (end > 0 && end < n) {
    bridge(event, n, end, n);
    longest_s = fmax(longest_s, event[n - 1].middle_s - event[end - 1].middle_s);
  }
  return longest_s;
}

/// Delay and spread of the taps, as the events now are.
static void measure_habit(const CwTapEvent *event, size_t n, double guess_s, CwTapHabit *habit)
{
  double sum = 0;
  double square = 0;
  double weight = 0;
  for (size_t k = 0; k < n; k++) {
    const double late_s = event[k].tap_s - event[k].mean_s;
    if (isfinite(late_s) && fabs(late_s - habit->delay_s) < STRAY_SPREADS * habit->spread_s) {
      sum += late_s;
      square += late_s * late_s + event[k].var;
      weight += 1.0;
    }
  }
  if (weight < CW_LEAST_TAPS) {
    return;
  }
  const double mean_s = sum / weight;
  const double squares = square - weight * mean_s * mean_s + LIKELY_TAPS * LIKELY_SPREAD_S * LIKELY_SPREAD_S;
  habit->delay_s = fmin(fmax(mean_s, guess_s - MOST_SHIFT_S), guess_s + MOST_SHIFT_S);
  habit->spread_s = fmin(sqrt(squares / (weight + LIKELY_TAPS)), MOST_SPREAD_S);
}

CwStatus cw_taps_fit(CwTapEvent *event, size_t n, const CwTapSight *sight, CwTapHabit *habit)
{
  const double guess_s = habit->delay_s;
  for (int round = 0; round <= ROUNDS; round++) {
    const double gap_s = set_middles(event, n, habit->delay_s);
    const double reach_s =
        fmin(fmax(fmax(LEAST_REACH_S, REACH_SPREADS * habit->spread_s), GAP_REACH * gap_s), MOST_REACH_S);
    const CwStatus status = cw_taps_settle(event, n, sight, habit, round < ROUNDS ? 2 : 1, reach_s);
    if (status != CW_OK) {
      return status;
    }
    if (round < ROUNDS) {
      measure_habit(event, n, guess_s, habit);
    }
  }
  return CW_OK;
}
