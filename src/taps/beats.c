// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/taps.h"
#include "pulse/look.h"
#include "pulse/refine.h"
#include "taps/bars.h"
#include "taps/fit.h"
#include "taps/pace.h"
#include "taps/track.h"

#define SHORTEST_S 2.0
#define USUAL_SPREAD_S 0.05
#define LEAST_INTERVAL_S 0.02

/// What is worked out on the way.
typedef struct {
  const CwFeatures *features;
  CwLook look;
  CwTapSight sight;
  const double *tap_s;
  size_t n; ///< taps within the recording
  long *place;
  CwTapEvent *event;
  size_t n_events;
  double *pulled_s; ///< the taps, nearer to the music
  CwTapHabit habit;
} Work;

/// An event for each beat from the first tap to the last.
static CwStatus make_events(Work *w)
{
  size_t first = 0;
  size_t last = w->n;
  while (first < w->n && w->place[first] == CW_EXTRA_TAP) {
    first++;
  }
  while (last > first && w->place[last - 1] == CW_EXTRA_TAP) {
    last--;
  }
  if (last < first + CW_LEAST_TAPS) {
    return CW_ERR_NO_PULSE;
  }
  w->n_events = (size_t)(w->place[last - 1] - w->place[first]) + 1;
  w->event = cw_new(w->n_events, sizeof *w->event);
  if (!w->event) {
    return CW_ERR_NO_MEM;
  }
  for (size_t k = 0; k < w->n_events; k++) {
    w->event[k] = (CwTapEvent){.beats = 1.0, .middle_s = NAN, .tap_s = NAN, .pin_s = NAN, .on_beat = true};
  }
  for (size_t i = first; i < last; i++) {
    if (w->place[i] != CW_EXTRA_TAP) {
      w->event[w->place[i] - w->place[first]].tap_s = w->tap_s[i];
    }
  }
  return CW_OK;
}

static CwStatus find_events(Work *w)
{
  const CwTapPlaces anywhere = {.begin_s = NAN};
  const CwTapView view = {w->sight.beat, NULL, w->sight.n};
  CwTapSigns signs = {.n = 0};
  w->place = cw_new(w->n, sizeof *w->place);
  w->pulled_s = cw_new(w->n, sizeof *w->pulled_s);
  CwStatus status = w->place && w->pulled_s ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = cw_taps_guess_delay(w->tap_s, w->n, &w->sight, USUAL_SPREAD_S, &w->habit.delay_s);
  }
  if (status == CW_OK) {
    w->habit.spread_s = USUAL_SPREAD_S;
    cw_taps_pull(w->tap_s, w->n, &w->sight, &w->habit, w->pulled_s);
    status = cw_tap_signs_make(&view, &signs);
  }
  if (status == CW_OK) {
    status = cw_taps_track(w->pulled_s, w->n, &anywhere, &signs, &w->habit, w->place);
  }
  cw_tap_signs_free(&signs);
  if (status == CW_OK) {
    status = make_events(w);
  }
  return status == CW_OK ? cw_taps_fit(w->event, w->n_events, &w->sight, &w->habit) : status;
}

static CwStatus make_beats(const Work *w, unsigned metre, CwBeats *beats)
{
  beats->beat = cw_new(w->n_events, sizeof *beats->beat);
  if (!beats->beat) {
    return CW_ERR_NO_MEM;
  }
  double after_s = 0;
  for (size_t k = 0; k < w->n_events; k++) {
    const double time_s = fmax(w->event[k].time_s, after_s);
    if (time_s < w->features->duration_s) {
      beats->beat[beats->n++] = (CwBeat){.time_s = time_s, .confidence = w->event[k].sure, .run_start = beats->n == 0};
      after_s = time_s + LEAST_INTERVAL_S;
    }
  }
  return cw_taps_find_bars(w->look.activation.downbeat, w->look.activation.n, metre, beats);
}

static void summarise(CwBeats *beats)
{
  size_t of_metre[16] = {0};
  for (size_t i = 0; i < beats->n; i++) {
    of_metre[beats->beat[i].metre % 16]++;
  }
  for (unsigned m = 1; m < 16; m++) {
    beats->metre = of_metre[m] > of_metre[beats->metre] ? m : beats->metre;
  }
  if (beats->n > 1) {
    beats->bpm = 60.0 * (double)(beats->n - 1) / (beats->beat[beats->n - 1].time_s - beats->beat[0].time_s);
  }
}

static void tell(const Work *w, CwTapsFound *found)
{
  *found = (CwTapsFound){.on = CW_TAPS_ON_BEATS, .delay_s = w->habit.delay_s, .spread_s = w->habit.spread_s};
  for (size_t k = 0; k < w->n_events; k++) {
    found->n_missing += isnan(w->event[k].tap_s) ? 1 : 0;
  }
  for (size_t i = 0; i < w->n; i++) {
    found->n_extra += w->place[i] == CW_EXTRA_TAP;
  }
}

/// Listen, knowing the pace of the taps.
static CwStatus listen(const Work *w, CwEarChoice choice, unsigned metre, const CwReport *report, CwHeard *heard)
{
  CwEar *ear = NULL;
  CwStatus status = cw_ear_open(choice, w->features, report, &ear);
  if (status != CW_OK || !ear) {
    return status;
  }
  const size_t rows = cw_ear_rows(ear);
  CwEarHint *hint = cw_ear_takes_hints(ear) ? cw_new(rows, sizeof *hint) : NULL;
  status = hint || !cw_ear_takes_hints(ear) ? CW_OK : CW_ERR_NO_MEM;
  if (hint) {
    cw_taps_hint(w->tap_s, w->n, 1.0, metre, hint, rows);
  }
  if (status == CW_OK) {
    status = cw_ear_listen(ear, hint, report, heard);
  }
  free(hint);
  cw_ear_free(ear);
  return status;
}

static CwStatus find(Work *w, unsigned metre, unsigned left_out, const CwHeard *heard, CwBeats *beats)
{
  CwModel model = cw_model_for(heard);
  model.left_out = left_out;
  CwStatus status = cw_look(w->features, &model, false, &w->look);
  if (status != CW_OK) {
    return status;
  }
  w->sight = (CwTapSight){w->look.activation.beat, w->look.activation.n};
  status = find_events(w);
  if (status == CW_OK) {
    status = make_beats(w, metre, beats);
  }
  if (status == CW_OK) {
    summarise(beats);
  }
  return status;
}

CwStatus cw_beats_by_taps(const CwFeatures *features, const CwTaps *taps, const CwBeatOptions *options,
                          const CwReport *report, CwBeats *beats, CwTapsFound *found)
{
  memset(beats, 0, sizeof *beats);
  const unsigned metre = options ? options->metre : 0;
  if (metre == 1 || metre > 6) {
    return CW_ERR_BAD_ARG;
  }
  if (features->duration_s < SHORTEST_S) {
    return CW_ERR_TOO_SHORT;
  }
  Work work = {.features = features, .tap_s = taps->time_s};
  while (work.n < taps->n && taps->time_s[work.n] < features->duration_s) {
    work.n++;
  }
  CwStatus status = work.n < CW_LEAST_TAPS ? CW_ERR_NO_PULSE : cw_report_progress(report, "following taps", 0.0);
  CwHeard heard = {0};
  if (status == CW_OK) {
    status = listen(&work, options ? options->ear : CW_EAR_USUAL, metre, report, &heard);
  }
  if (status == CW_OK) {
    status = find(&work, metre, options ? options->left_out : 0, &heard, beats);
  }
  cw_heard_free(&heard);
  if (status == CW_OK && found) {
    tell(&work, found);
  }
  cw_look_free(&work.look);
  free(work.place);
  free(work.pulled_s);
  free(work.event);
  if (status != CW_OK) {
    cw_beats_free(beats);
  }
  return status;
}
