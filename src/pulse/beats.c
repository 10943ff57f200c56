// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/beats.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "base/memory.h"
#include "pulse/activation.h"
#include "pulse/decode.h"
#include "pulse/join_bars.h"
#include "pulse/look.h"
#include "pulse/refine.h"
#include "pulse/seen.h"

#define SHORTEST_S 2.0
#define PLAIN_SHARE 0.5
#define TEMPO_SPAN 8
#define SHORTEST_RUN 4 // beats
#define SURE_RUN 16    // so many come about by chance no more; shorter runs must be ...
#define SHORT_RUN_CONFIDENCE 0.5
#define DOTTED_THIRDS 2.0    // each eighth counts as much as a beat would
#define DOTTED_MAX_BPM 140.0 // common practice, no source
#define DOTTED_LIKELY_BPM 70.0
#define FAINT_SHARE 0.5 // of the cost of a pulse beginning
#define ON_BEAT_S 0.03
#define PLAIN_UNEVENNESS 0.03 // mean change of ln(interval)

/// Leave out the cues that are no part of the evidence.
static void leave_out(CwModel *model)
{
  if (model->left_out & CW_CUE_OFFBEATS) {
    model->offbeat_weight = model->thirds_weight = 0;
  }
  if (model->left_out & CW_CUE_TEMPO) {
    model->tempo_weight = 0;
  }
}

static CwModel model_for(const CwBeatOptions *options, const CwHeard *heard)
{
  CwModel model = cw_model_for(heard);
  model.left_out = 0;
  if (!options) {
    return model;
  }
  model.min_bpm = options->min_bpm > 0 ? options->min_bpm : model.min_bpm;
  model.max_bpm = options->max_bpm > 0 ? options->max_bpm : model.max_bpm;
  if (options->likely_bpm > 0) {
    model.likely_bpm = options->likely_bpm;
    model.tempo_spread *= 0.5; // it was said, not guessed
  }
  model.metre = options->metre;
  model.left_out = options->left_out;
  if (options->dotted) { // the eighths are no beats, and two of them make none
    model.offbeat_weight = 0;
    model.thirds_weight = model.heard ? 0 : DOTTED_THIRDS;
    model.max_bpm = fmin(model.max_bpm, DOTTED_MAX_BPM);
    model.likely_bpm = options->likely_bpm > 0 ? model.likely_bpm : DOTTED_LIKELY_BPM;
  }
  leave_out(&model);
  return model;
}

static bool is_known_metre(unsigned metre)
{
  return metre == 0 || (metre >= 2 && metre <= 6);
}

/// Share of the onset strength (its local maxima) that lies on beats.
static double share_on_beats(const CwActivation *activation, const CwBeats *beats)
{
  const float *x = activation->strength;
  double all = 0;
  double on = 0;
  size_t k = 0;
  for (size_t i = 1; i + 1 < activation->n; i++) {
    if (x[i] < x[i - 1] || x[i] <= x[i + 1]) {
      continue;
    }
    const double time_s = (double)i / CW_FEATURE_RATE_HZ;
    while (k + 1 < beats->n && fabs(beats->beat[k + 1].time_s - time_s) <= fabs(beats->beat[k].time_s - time_s)) {
      k++;
    }
    all += (double)x[i];
    on += fabs(beats->beat[k].time_s - time_s) <= ON_BEAT_S ? (double)x[i] : 0.0;
  }
  return all > 0 ? on / all : 0.0;
}

/// Whether beats come so evenly, and so little between them, that they are a pulse even where no notes are held (drums,
/// clicks).
static bool is_plain_pulse(const CwActivation *activation, const CwBeats *beats)
{
  double unevenness = 0;
  size_t n = 0;
  for (size_t i = 2; i < beats->n; i++) {
    if (!beats->beat[i].run_start && !beats->beat[i - 1].run_start) {
      const double before = beats->beat[i - 1].time_s - beats->beat[i - 2].time_s;
      unevenness += fabs(log((beats->beat[i].time_s - beats->beat[i - 1].time_s) / before));
      n++;
    }
  }
  return n > 0 && unevenness <= PLAIN_UNEVENNESS * (double)n && share_on_beats(activation, beats) >= PLAIN_SHARE;
}

/// Move each beat to its attack; pinned ones to their pins, to the last digit.
static void place_finely(const CwFeatures *features, const CwBeatOptions *options, CwBeats *beats)
{
  size_t pin = 0;
  const size_t n_pins = options ? options->n_pins : 0;
  for (size_t i = 0; i < beats->n; i++) {
    CwBeat *beat = &beats->beat[i];
    const double frame_s = beat->time_s;
    while (pin < n_pins && options->pin[pin].time_s < frame_s - 0.5 / CW_FEATURE_RATE_HZ - 1e-9) {
      pin++;
    }
    if (pin < n_pins && options->pin[pin].time_s <= frame_s + 0.5 / CW_FEATURE_RATE_HZ + 1e-9) {
      beat->time_s = options->pin[pin].time_s;
      beat->confidence = 1.0F;
    } else {
      beat->time_s = cw_refine_time(features, frame_s);
    }
  }
}

static int compare_doubles(const void *a, const void *b)
{
  const double x = *(const double *)a;
  const double y = *(const double *)b;
  return (x > y) - (x < y);
}

/// Seconds of a beat, ending at each beat: means over TEMPO_SPAN beats, or in a shorter run over what there is of it.
static size_t measure_intervals(const CwBeats *beats, double *interval)
{
  size_t n = 0;
  size_t run = 0;
  for (size_t i = 0; i < beats->n; i++) {
    run = beats->beat[i].run_start ? i : run;
    const bool last = i + 1 == beats->n || beats->beat[i + 1].run_start;
    const size_t span = i - run < TEMPO_SPAN ? i - run : TEMPO_SPAN;
    if (span == TEMPO_SPAN || (last && span > 0)) {
      interval[n++] = (beats->beat[i].time_s - beats->beat[i - span].time_s) / (double)span;
    }
  }
  return n;
}

static CwStatus summarise(CwBeats *beats)
{
  size_t of_metre[16] = {0};
  double *interval = cw_new(beats->n, sizeof *interval);
  if (!interval) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < beats->n; i++) {
    of_metre[beats->beat[i].metre % 16]++;
  }
  for (unsigned m = 1; m < 16; m++) {
    if (of_metre[m] > of_metre[beats->metre]) {
      beats->metre = m;
    }
  }
  const size_t n = measure_intervals(beats, interval);
  if (n > 0) {
    qsort(interval, n, sizeof *interval, compare_doubles);
    beats->bpm = 60.0 / (0.5 * (interval[(n - 1) / 2] + interval[n / 2]));
  }
  free(interval);
  return CW_OK;
}

/// Leave out runs too short or too unsure to be a pulse: a moment of talk that happens to hold a note.
static void drop_weak_runs(CwBeats *beats)
{
  size_t kept = 0;
  for (size_t begin = 0, end = 0; begin < beats->n; begin = end) {
    double confidence = 0;
    for (end = begin; end < beats->n && (end == begin || !beats->beat[end].run_start); end++) {
      confidence += (double)beats->beat[end].confidence;
    }
    const size_t n = end - begin;
    if (n >= SURE_RUN || (n >= SHORTEST_RUN && confidence >= SHORT_RUN_CONFIDENCE * (double)n)) {
      memmove(beats->beat + kept, beats->beat + begin, n * sizeof *beats->beat);
      kept += n;
    }
  }
  beats->n = kept;
}

CwStatus cw_beats_seen(const CwFeatures *features, const CwBeatOptions *options, const CwModel *model,
                       const CwLook *look, const CwReport *report, CwBeats *beats)
{
  CwStatus status =
      cw_decode(&look->activation, model, options ? options->pin : NULL, options ? options->n_pins : 0, report, beats);
  if (status == CW_OK) {
    for (size_t i = 0; i < beats->n; i++) {
      beats->beat[i].confidence = cw_look_near(look, beats->beat[i].time_s);
    }
    if (!options || options->n_pins == 0) {
      drop_weak_runs(beats);
    }
    cw_join_bars(&look->activation, model->metre, beats);
    place_finely(features, options, beats);
    status = summarise(beats);
  }
  return status;
}

/// Ways to look for a pulse, each where the one before found none.
typedef enum {
  HELD,  ///< where notes are held
  PLAIN, ///< a plain pulse of any sound
  FAINT, ///< where notes are held, with less to show: soft music whose notes seldom begin together
  N_WAYS
} Way;

static CwModel model_of_way(const CwBeatOptions *options, const CwHeard *heard, Way way)
{
  CwModel model = model_for(options, heard);
  if (way == PLAIN) {
    model.heard = NULL;                             // trained on notes
    model.offbeat_weight = model.thirds_weight = 0; // of strokes alone, each is a beat, whatever the tempo
    model.tempo_weight *= 0.25;
  } else if (way == FAINT) {
    model.enter_cost *= FAINT_SHARE;
  }
  return model;
}

static CwStatus find(const CwFeatures *features, const CwBeatOptions *options, const CwHeard *heard,
                     const CwReport *report, CwBeats *beats)
{
  for (Way way = HELD; way < N_WAYS; way++) {
    const CwModel model = model_of_way(options, heard, way);
    CwLook look;
    cw_beats_free(beats);
    CwStatus status = cw_look(features, &model, way != PLAIN, &look);
    if (status != CW_OK) {
      return status;
    }
    status = cw_beats_seen(features, options, &model, &look, report, beats);
    const bool found = beats->n > 0 && (way != PLAIN || is_plain_pulse(&look.activation, beats));
    cw_look_free(&look);
    if (status != CW_OK || found) {
      return status;
    }
  }
  return CW_ERR_NO_PULSE;
}

/// The pin nearest to pin `k` in time; `k` itself when it is the only one.
static size_t nearest_pin(const CwBeatOptions *options, size_t k)
{
  const CwBeatPin *pin = options->pin;
  const bool after = k + 1 < options->n_pins;
  if (after && (k == 0 || pin[k + 1].time_s - pin[k].time_s < pin[k].time_s - pin[k - 1].time_s)) {
    return k + 1;
  }
  return k > 0 ? k - 1 : k;
}

/// Tell of pins that no beat is on: each contradicts the one nearest to it, or lies outside the recording.
static void tell_lost_pins(const CwFeatures *features, const CwBeatOptions *options, const CwReport *report,
                           const CwBeats *beats)
{
  size_t i = 0;
  for (size_t k = 0; options && k < options->n_pins; k++) {
    const double time_s = options->pin[k].time_s;
    while (i < beats->n && beats->beat[i].time_s < time_s) {
      i++;
    }
    if (i < beats->n && beats->beat[i].time_s <= time_s) {
      continue;
    }
    char here[32];
    char there[32];
    cw_format_fixed(here, sizeof here, time_s, 3);
    cw_format_fixed(there, sizeof there, options->pin[nearest_pin(options, k)].time_s, 3);
    if (time_s < 0 || time_s >= features->duration_s || nearest_pin(options, k) == k) {
      cw_report_notice(report, "the beat pinned at %s s lies outside the music: it is left out", here);
    } else {
      cw_report_notice(report, "the beat pinned at %s s is too near the one pinned at %s s: it is left out", here,
                       there);
    }
  }
}

CwStatus cw_beats_find(const CwFeatures *features, const CwBeatOptions *options, const CwReport *report, CwBeats *beats)
{
  memset(beats, 0, sizeof *beats);
  if (options && !is_known_metre(options->metre)) {
    return CW_ERR_BAD_ARG;
  }
  if (features->duration_s < SHORTEST_S) {
    return CW_ERR_TOO_SHORT;
  }
  CwHeard heard;
  CwStatus status = cw_ear_hear(options ? options->ear : CW_EAR_USUAL, features, report, &heard);
  if (status == CW_OK) {
    status = find(features, options, &heard, report, beats);
  }
  cw_heard_free(&heard);
  if (status != CW_OK) {
    cw_beats_free(beats);
  } else {
    tell_lost_pins(features, options, report, beats);
  }
  return status;
}

void cw_beats_free(CwBeats *beats)
{
  if (!beats) {
    return;
  }
  free(beats->beat);
  memset(beats, 0, sizeof *beats);
}
