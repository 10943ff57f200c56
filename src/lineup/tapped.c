// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/tapped.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "pulse/lanes.h"
#include "taps/fit.h"
#include "taps/track.h"

#define GUESSED_SPREAD_S 0.05
#define USUAL_BAR 4     // beats
#define NEAR_BEATS 16.0 // counts this far from the nearest tap still go by it

/// A place in the plan: a count, or a beat within one.
typedef struct {
  double at;    ///< beats before it
  size_t count; ///< index of its count
  bool inner;   ///< it is a beat within that count
  bool tapped;  ///< taps may be on it
} Spot;

typedef struct {
  const CwPlan *plan;
  const double *tap_s;
  size_t n_taps;
  const CwLook *look;
  CwTapsOn on;
  Spot *spot; ///< all places of the plan, whether tapped or not
  size_t n_spots;
  CwTapPlaces places; ///< those that may be tapped
  double *beats;      ///< of the places, as are the next three
  float *accent;
  bool *after_hold;
  double *pin_s;
  size_t *spot_of;  ///< by place
  long *place;      ///< by tap
  double *pulled_s; ///< the taps, nearer to the music
  CwTapSigns signs;
  CwTapEvent *event;
  size_t n_events;
  size_t n_before; ///< events before the first spot
  CwTapHabit habit;
} Work;

static void work_free(Work *w)
{
  free(w->spot);
  free(w->beats);
  free(w->accent);
  free(w->after_hold);
  free(w->pin_s);
  free(w->spot_of);
  free(w->place);
  free(w->pulled_s);
  free(w->event);
  cw_tap_signs_free(&w->signs);
}

static double plan_beats(const CwPlan *plan)
{
  double beats = 0;
  for (size_t i = 0; i < plan->n; i++) {
    beats += plan->count[i].beats;
  }
  return beats;
}

/// What was tapped, by how many taps there are.
static CwTapsOn find_on(const CwPlan *plan, size_t n_taps)
{
  const double n[] = {[CW_TAPS_ON_BEATS] = plan_beats(plan),
                      [CW_TAPS_ON_COUNTS] = (double)plan->n,
                      [CW_TAPS_ON_ONES] = (double)cw_plan_phrases(plan)};
  CwTapsOn best = CW_TAPS_ON_COUNTS;
  for (CwTapsOn on = CW_TAPS_ON_BEATS; on <= CW_TAPS_ON_ONES; on++) {
    if (fabs(log((double)n_taps / n[on])) < fabs(log((double)n_taps / n[best])) - 1e-9) {
      best = on;
    }
  }
  return best;
}

double cw_beats_of_a_tap(const CwPlan *plan, size_t n_taps, CwTapsOn on)
{
  switch (on == CW_TAPS_ON_ANY ? find_on(plan, n_taps) : on) {
  case CW_TAPS_ON_BEATS:
    return 1.0;
  case CW_TAPS_ON_ONES:
    return plan_beats(plan) / (double)cw_plan_phrases(plan);
  default:
    return plan_beats(plan) / (double)plan->n;
  }
}

/// Index of the first tap that is on a place, or of the last one.
static size_t end_tap(const Work *w, bool last)
{
  size_t i = last ? w->n_taps - 1 : 0;
  while (w->place[i] == CW_EXTRA_TAP && i != (last ? 0 : w->n_taps - 1)) {
    i += last ? (size_t)-1 : 1;
  }
  return i;
}

static bool is_tapped(const Work *w, size_t count)
{
  const CwPlanCount *c = &w->plan->count[count];
  switch (w->on) {
  case CW_TAPS_ON_ONES:
    return count == 0 || c[-1].phrase != c->phrase;
  case CW_TAPS_ON_BEATS:
    return c->on_beat;
  default:
    return true;
  }
}

static CwStatus make_spots(Work *w)
{
  const CwPlan *plan = w->plan;
  size_t most = plan->n;
  for (size_t i = 0; i < plan->n; i++) {
    most += (size_t)plan->count[i].beats + 1;
  }
  w->spot = cw_new(most, sizeof *w->spot);
  if (!w->spot) {
    return CW_ERR_NO_MEM;
  }
  double at = 0;
  for (size_t i = 0; i < plan->n; i++) {
    const CwPlanCount *count = &plan->count[i];
    w->spot[w->n_spots++] = (Spot){at, i, false, is_tapped(w, i)};
    for (double into = count->to_beat; w->on == CW_TAPS_ON_BEATS && into < count->beats - 0.02; into += 1.0) {
      w->spot[w->n_spots++] = (Spot){at + into, i, true, true};
    }
    at += count->beats;
  }
  return CW_OK;
}

/// Places in a bar: from the first that begins one to the next.
static size_t bar_of(const Work *w)
{
  size_t first = w->places.n;
  for (size_t i = 0; i < w->places.n; i++) {
    if (w->accent[i] == CW_ACCENT_FIRST) {
      if (first < i) {
        return i - first;
      }
      first = i;
    }
  }
  return USUAL_BAR;
}

static CwStatus make_places(Work *w)
{
  w->beats = cw_new(w->n_spots, sizeof *w->beats);
  w->accent = cw_new(w->n_spots, sizeof *w->accent);
  w->after_hold = cw_new(w->n_spots, sizeof *w->after_hold);
  w->pin_s = cw_new(w->n_spots, sizeof *w->pin_s);
  w->spot_of = cw_new(w->n_spots, sizeof *w->spot_of);
  if (!w->beats || !w->accent || !w->after_hold || !w->pin_s || !w->spot_of) {
    return CW_ERR_NO_MEM;
  }
  size_t n = 0;
  for (size_t s = 0; s < w->n_spots; s++) {
    const Spot *spot = &w->spot[s];
    const CwPlanCount *count = &w->plan->count[spot->count];
    if (spot->tapped) {
      w->beats[n] = spot->at;
      w->accent[n] = !spot->inner || count->accent == 0 ? count->accent : CW_ACCENT_WEAK;
      w->after_hold[n] = !spot->inner && count->after_hold;
      w->pin_s[n] = spot->inner ? (double)NAN : count->pin_s;
      w->spot_of[n++] = s;
      w->places.n_needed = spot->inner ? w->places.n_needed : n;
    }
  }
  w->places.n = n;
  w->places.bar = w->on == CW_TAPS_ON_ONES ? 1 : bar_of(w);
  w->places.beats = w->beats;
  w->places.accent = w->accent;
  w->places.after_hold = w->after_hold;
  w->places.pin_s = w->pin_s;
  return CW_OK;
}

/// Events: taps before the plan, its spots, and taps after it.
static CwStatus make_events(Work *w)
{
  const long first = w->place[end_tap(w, false)];
  const long last = w->place[end_tap(w, true)];
  const long n_places = (long)w->places.n;
  w->n_before = first < 0 ? (size_t)-first : 0;
  const size_t n_after = last >= n_places ? (size_t)(last - n_places + 1) : 0;
  w->n_events = w->n_before + w->n_spots + n_after;
  w->event = cw_new(w->n_events, sizeof *w->event);
  if (!w->event) {
    return CW_ERR_NO_MEM;
  }
  double before = cw_tap_place_beats(&w->places, -(long)w->n_before - 1);
  for (size_t k = 0; k < w->n_events; k++) {
    const size_t s = k - w->n_before; // wraps before the plan
    const Spot *spot = s < w->n_spots ? &w->spot[s] : NULL;
    const CwPlanCount *count = spot && !spot->inner ? &w->plan->count[spot->count] : NULL;
    const long outside = k < w->n_before ? (long)k - (long)w->n_before : n_places + (long)(s - w->n_spots);
    const double at = spot ? spot->at : cw_tap_place_beats(&w->places, outside);
    w->event[k] = (CwTapEvent){.beats = fmax(at - before, 0.05),
                               .middle_s = NAN,
                               .tap_s = NAN,
                               .pin_s = count ? count->pin_s : (double)NAN,
                               .on_beat = !count || count->on_beat,
                               .broken = count && count->after_hold};
    before = at;
  }
  for (size_t i = 0; i < w->n_taps; i++) {
    const long p = w->place[i];
    if (p != CW_EXTRA_TAP) {
      const size_t k = p < 0           ? (size_t)((long)w->n_before + p)
                       : p >= n_places ? w->n_before + w->n_spots + (size_t)(p - n_places)
                                       : w->n_before + w->spot_of[p];
      w->event[k].tap_s = w->tap_s[i];
    }
  }
  return CW_OK;
}

/// Leave out events far from any tap. @param[out] from,to Those kept.
static void find_near(const Work *w, size_t *from, size_t *to)
{
  size_t first = 0;
  size_t last = w->n_events - 1;
  while (isnan(w->event[first].tap_s) && first < last) {
    first++;
  }
  while (isnan(w->event[last].tap_s) && last > first) {
    last--;
  }
  *from = first;
  for (double beats = 0; *from > 0 && beats + w->event[*from].beats <= NEAR_BEATS; (*from)--) {
    beats += w->event[*from].beats;
  }
  *to = last + 1;
  for (double beats = 0; *to < w->n_events && beats + w->event[*to].beats <= NEAR_BEATS; (*to)++) {
    beats += w->event[*to].beats;
  }
}

static CwStatus place_counts(Work *w, double *time_s, float *sure)
{
  const CwTapSight sight = {w->look->activation.beat, w->look->activation.n};
  size_t from = 0;
  size_t to = 0;
  find_near(w, &from, &to);
  const CwStatus status = cw_taps_fit(w->event + from, to - from, &sight, &w->habit);
  for (size_t i = 0; i < w->plan->n; i++) {
    time_s[i] = NAN;
    sure[i] = 0;
  }
  for (size_t k = from; k < to && status == CW_OK; k++) {
    const size_t s = k - w->n_before;
    if (s < w->n_spots && !w->spot[s].inner) {
      time_s[w->spot[s].count] = w->event[k].time_s;
      sure[w->spot[s].count] = w->event[k].sure;
    }
  }
  return status;
}

static void tell(const Work *w, CwTapsFound *found)
{
  *found = (CwTapsFound){.on = w->on, .delay_s = w->habit.delay_s, .spread_s = w->habit.spread_s};
  size_t on_places = 0;
  for (size_t i = 0; i < w->n_taps; i++) {
    on_places += w->place[i] != CW_EXTRA_TAP;
  }
  found->n_extra = w->n_taps - on_places;
  found->n_missing = (size_t)(w->place[end_tap(w, true)] - w->place[end_tap(w, false)]) + 1 - on_places;
}

static CwStatus run(Work *w, double *time_s, float *sure)
{
  const CwActivation *a = &w->look->activation;
  const CwTapSight sight = {a->beat, a->n};
  const CwTapView view = {a->beat, a->downbeat, a->n};
  w->place = cw_new(w->n_taps, sizeof *w->place);
  w->pulled_s = cw_new(w->n_taps, sizeof *w->pulled_s);
  CwStatus status = w->place && w->pulled_s ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = cw_taps_guess_delay(w->tap_s, w->n_taps, &sight, GUESSED_SPREAD_S, &w->habit.delay_s);
  }
  if (status == CW_OK) {
    w->habit.spread_s = GUESSED_SPREAD_S;
    cw_taps_pull(w->tap_s, w->n_taps, &sight, &w->habit, w->pulled_s);
    w->on = w->on == CW_TAPS_ON_ANY ? find_on(w->plan, w->n_taps) : w->on;
  }
  if (status == CW_OK) {
    status = make_spots(w);
  }
  if (status == CW_OK) {
    status = make_places(w);
  }
  if (status == CW_OK) {
    status = cw_tap_signs_make(&view, &w->signs);
  }
  if (status == CW_OK) {
    status = cw_taps_track(w->pulled_s, w->n_taps, &w->places, &w->signs, &w->habit, w->place);
  }
  if (status == CW_OK) {
    status = make_events(w);
  }
  return status == CW_OK ? place_counts(w, time_s, sure) : status;
}

CwStatus cw_plan_by_taps(const CwPlan *plan, const double *tap_s, size_t n_taps, CwTapsOn on, const CwLook *look,
                         double begin_s, double *time_s, float *sure, CwTapsFound *found)
{
  Work work = {.plan = plan, .tap_s = tap_s, .n_taps = n_taps, .on = on, .look = look, .places.begin_s = begin_s};
  if (n_taps < CW_LEAST_TAPS) {
    return CW_ERR_NO_PULSE;
  }
  const CwStatus status = run(&work, time_s, sure);
  if (status == CW_OK) {
    tell(&work, found);
  }
  work_free(&work);
  return status;
}
