// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/beats.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "pulse/activation.h"
#include "pulse/decode.h"
#include "pulse/posterior.h"
#include "pulse/refine.h"

#define SHORTEST_S 2.0
#define CERTAINTY_SCALE 1.7F // evidence of neighbouring frames is not independent, yet a beat gathers several cues
#define PLAIN_CONFIDENCE 0.75
#define PLAIN_UNEVENNESS 0.03 // mean change of ln(interval)
#define NEAR_FRAMES 7         // 70 ms

static CwModel model_for(const CwBeatOptions *options)
{
  CwModel model = cw_model_default();
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
  return model;
}

static bool is_known_metre(unsigned metre)
{
  return metre == 0 || metre == 2 || metre == 3 || metre == 4 || metre == 6;
}

/// How sure the model is of each beat.
static CwStatus set_confidence(CwActivation *activation, const CwModel *model, CwBeats *beats)
{
  for (size_t i = 0; i < activation->n; i++) {
    activation->beat[i] *= CERTAINTY_SCALE;
  }
  float *probability = NULL;
  const CwStatus status = cw_posterior(activation, model, &probability);
  for (size_t k = 0; k < beats->n && status == CW_OK; k++) {
    const size_t middle = (size_t)lround(beats->beat[k].time_s * CW_FEATURE_RATE_HZ);
    float sum = 0;
    for (size_t i = middle > NEAR_FRAMES ? middle - NEAR_FRAMES : 0; i <= middle + NEAR_FRAMES && i < activation->n;
         i++) {
      sum += probability[i];
    }
    beats->beat[k].confidence = fminf(sum, 1.0F);
  }
  free(probability);
  return status;
}

/// Whether beats come so evenly and surely that they are a pulse even where no notes are held (drums, clicks).
static bool is_plain_pulse(const CwBeats *beats)
{
  double unevenness = 0;
  double confidence = 0;
  size_t n = 0;
  for (size_t i = 0; i < beats->n; i++) {
    confidence += (double)beats->beat[i].confidence;
    if (i >= 2 && !beats->beat[i].run_start && !beats->beat[i - 1].run_start) {
      const double before = beats->beat[i - 1].time_s - beats->beat[i - 2].time_s;
      unevenness += fabs(log((beats->beat[i].time_s - beats->beat[i - 1].time_s) / before));
      n++;
    }
  }
  return n > 0 && confidence >= PLAIN_CONFIDENCE * (double)beats->n && unevenness <= PLAIN_UNEVENNESS * (double)n;
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

static CwStatus summarise(CwBeats *beats)
{
  size_t of_metre[16] = {0};
  double *interval = cw_new(beats->n, sizeof *interval);
  if (!interval) {
    return CW_ERR_NO_MEM;
  }
  size_t n = 0;
  for (size_t i = 0; i < beats->n; i++) {
    of_metre[beats->beat[i].metre % 16]++;
    if (i > 0 && !beats->beat[i].run_start) {
      interval[n++] = beats->beat[i].time_s - beats->beat[i - 1].time_s;
    }
  }
  for (unsigned m = 1; m < 16; m++) {
    if (of_metre[m] > of_metre[beats->metre]) {
      beats->metre = m;
    }
  }
  if (n > 0) {
    qsort(interval, n, sizeof *interval, compare_doubles);
    beats->bpm = 60.0 / (0.5 * (interval[(n - 1) / 2] + interval[n / 2]));
  }
  free(interval);
  return CW_OK;
}

static CwStatus decode_with(const CwFeatures *features, const CwBeatOptions *options, CwActivation *activation,
                            const CwReport *report, CwBeats *beats)
{
  const CwModel model = model_for(options);
  CwStatus status =
      cw_decode(activation, &model, options ? options->pin : NULL, options ? options->n_pins : 0, report, beats);
  if (status == CW_OK) {
    status = set_confidence(activation, &model, beats);
  }
  if (status == CW_OK) {
    place_finely(features, options, beats);
    status = summarise(beats);
  }
  return status;
}

/// First where notes are held; where there are none at all, a plain pulse will do.
static CwStatus find(const CwFeatures *features, const CwBeatOptions *options, const CwReport *report, CwBeats *beats)
{
  CwActivation activation;
  CwStatus status = cw_activation_make(features, &activation);
  if (status == CW_OK) {
    cw_activation_keep_tonal(features, &activation);
    status = decode_with(features, options, &activation, report, beats);
    cw_activation_free(&activation);
  }
  if (status != CW_OK || beats->n > 0) {
    return status;
  }
  cw_beats_free(beats);
  status = cw_activation_make(features, &activation);
  if (status == CW_OK) {
    status = decode_with(features, options, &activation, report, beats);
    cw_activation_free(&activation);
  }
  return status == CW_OK && !is_plain_pulse(beats) ? CW_ERR_NO_PULSE : status;
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
  const CwStatus status = find(features, options, report, beats);
  if (status != CW_OK) {
    cw_beats_free(beats);
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
