// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/activation.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/cues.h"
#include "pulse/lengths.h"
#include "pulse/window.h"

// Weights of the cues, and what an onset of ordinary strength must have to be as likely a beat as not.
#define WEIGHT_ALL 1.0F
#define WEIGHT_SLOW 1.0F
#define WEIGHT_LOW 0.5F
#define WEIGHT_HARMONIC 0.6F
#define BAR_LOW 0.5F // the same for downbeats
#define BAR_BASS 0.6F
#define BAR_HARMONIC 0.6F
#define WEIGHT_ACCENT 0.3F
#define WEIGHT_LENGTH 0.5F
#define ACCENT_DB 6.0
#define ACCENT_S 4.0 // accents are compared with onsets this near
#define BEAT_SCALE 1.6F
#define BEAT_THRESHOLD 0.35F
#define DOWNBEAT_SCALE 1.0F
#define UNREST_S 0.5    // how far on each side the unrest of a sustained sound is measured
#define FLOOR_ALL 0.01F // least unrest that counts, in units of the features
#define FLOOR_SLOW 0.02F
#define FLOOR_LOW 0.01F
#define FLOOR_HARMONIC 0.01F
#define LOCAL_S 6.0 // strengths are compared with those this near

#define TONAL_S 5.0          // notes are looked for this far on each side
#define TONAL_STEADINESS 0.3 // noise stays under 0.2, talk under 0.27, music over 0.37
#define NEAR 4               // frames
#define MOST_SPREADS 2.0
#define LEAST_SPREAD 0.05 // accents that differ less than this are alike
#define SILENCE_DB 50.0   // this far below the loudest moment nothing counts

static float *new_curve(size_t n)
{
  return cw_new(n, sizeof(float));
}

/// Take off the local mean (the unrest of a sustained sound), keep what stands out.
static void stand_out(const float *in, size_t n, float *out)
{
  const size_t reach = (size_t)(UNREST_S * CW_FEATURE_RATE_HZ);
  CwWindow window = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    out[i] = fmaxf(0.0F, in[i] - (float)cw_window_mean(&window, in, n, i, reach, false));
  }
}

/// Divide by the local root mean square, over LOCAL_S to each side, but by no less than `floor`.
static void normalise(const float *in, size_t n, double floor, float *out)
{
  const size_t reach = (size_t)(LOCAL_S * CW_FEATURE_RATE_HZ);
  CwWindow window = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    const double rms = sqrt(fmax(cw_window_mean(&window, in, n, i, reach, true), 0.0));
    out[i] = (float)((double)in[i] / fmax(rms, floor));
  }
}

/// Weighted means over five frames: a beat found a frame or two off is still found.
static void smooth(const float *in, size_t n, float *out)
{
  static const float weight[5] = {0.15F, 0.6F, 1.0F, 0.6F, 0.15F};
  for (size_t i = 0; i < n; i++) {
    float best = 0;
    for (size_t k = 0; k < 5; k++) {
      if (i + k >= 2 && i + k - 2 < n) {
        best = fmaxf(best, weight[k] * in[i + k - 2]);
      }
    }
    out[i] = best;
  }
}

typedef struct {
  float *all, *slow, *low, *harmonic, *bass, *work;
} Cues;

static void cues_free(Cues *cues)
{
  free(cues->all);
  free(cues->slow);
  free(cues->low);
  free(cues->harmonic);
  free(cues->bass);
  free(cues->work);
}

static bool cues_make(const CwFeatures *f, Cues *cues)
{
  const size_t n = f->n_frames;
  *cues = (Cues){new_curve(n), new_curve(n), new_curve(n), new_curve(n), new_curve(n), new_curve(n)};
  if (!cues->all || !cues->slow || !cues->low || !cues->harmonic || !cues->bass || !cues->work) {
    cues_free(cues);
    return false;
  }
  stand_out(f->onset, n, cues->work);
  normalise(cues->work, n, FLOOR_ALL, cues->slow);
  smooth(cues->slow, n, cues->all);
  stand_out(f->onset_low, n, cues->work);
  normalise(cues->work, n, FLOOR_LOW, cues->slow);
  smooth(cues->slow, n, cues->low);
  stand_out(f->onset_slow, n, cues->work);
  normalise(cues->work, n, FLOOR_SLOW, cues->slow);
  normalise(f->harmonic, n, FLOOR_HARMONIC, cues->harmonic);
  normalise(f->bass_change, n, FLOOR_HARMONIC, cues->bass);
  return true;
}

/// Level of what begins at each frame, against the onsets around it, in units of ACCENT_DB: how accented it is.
/// @param work Three curves of room.
static void measure_accents(const CwFeatures *f, const float *strength, float *accent, float *const work[3])
{
  const size_t n = f->n_frames;
  const size_t reach = (size_t)(ACCENT_S * CW_FEATURE_RATE_HZ);
  for (size_t i = 0; i < n; i++) {
    float level = f->level_db[i];
    for (size_t k = i + 1; k < n && k <= i + 8; k++) {
      level = fmaxf(level, f->level_db[k]);
    }
    work[0][i] = level;
    work[1][i] = strength[i] * strength[i];
    work[2][i] = work[1][i] * level;
  }
  CwWindow weights = {0, 0, 0};
  CwWindow levels = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    const double weight = cw_window_mean(&weights, work[1], n, i, reach, false);
    const double level = cw_window_mean(&levels, work[2], n, i, reach, false) / fmax(weight, 1e-9);
    const double above = ((double)work[0][i] - level) / ACCENT_DB;
    accent[i] = weight > 1e-6 ? (float)fmin(fmax(above, -1.5), 1.5) : 0.0F;
  }
}

static float loudest(const CwFeatures *f)
{
  float most = -120.0F;
  for (size_t i = 0; i < f->n_frames; i++) {
    most = fmaxf(most, f->level_db[i]);
  }
  return most;
}

/// Whether nothing sounds around frame `i`: an attack is felt in the features a little before it is loud.
static bool is_quiet(const CwFeatures *f, size_t i, float quiet_db)
{
  const size_t reach = 5;
  for (size_t k = i > reach ? i - reach : 0; k <= i + reach && k < f->n_frames; k++) {
    if (f->level_db[k] >= quiet_db) {
      return false;
    }
  }
  return true;
}

/// What each cue of beats weighs, some left out.
typedef struct {
  float all, slow, low, harmonic;
  float scale; ///< so that the weights come to the same whatever is left out
} Weights;

static float weight_of(unsigned cue, unsigned left_out, float weight)
{
  return left_out & cue ? 0.0F : weight;
}

static Weights weights_without(unsigned left_out)
{
  Weights w = {.all = weight_of(CW_CUE_ALL, left_out, WEIGHT_ALL),
               .slow = weight_of(CW_CUE_SLOW, left_out, WEIGHT_SLOW),
               .low = weight_of(CW_CUE_LOW, left_out, WEIGHT_LOW),
               .harmonic = weight_of(CW_CUE_HARMONIC, left_out, WEIGHT_HARMONIC)};
  const float sum = w.all + w.slow + w.low + w.harmonic;
  w.scale = sum > 0 ? (WEIGHT_ALL + WEIGHT_SLOW + WEIGHT_LOW + WEIGHT_HARMONIC) / sum : 1.0F;
  return w;
}

/// Join the cues. A change of harmony counts only where something sounds.
static void join_cues(const CwFeatures *f, const Cues *cues, unsigned left_out, CwActivation *a)
{
  const Weights w = weights_without(left_out);
  const float low = weight_of(CW_CUE_LOW, left_out, BAR_LOW);
  const float bass = weight_of(CW_CUE_BASS, left_out, BAR_BASS);
  const float harmonic = weight_of(CW_CUE_HARMONIC, left_out, BAR_HARMONIC);
  const float quiet = fmaxf(loudest(f) - (float)SILENCE_DB, -75.0F);
  for (size_t i = 0; i < f->n_frames; i++) {
    const float change = fminf(cues->harmonic[i], 2.5F) * fminf(cues->slow[i], 1.0F);
    const float x = w.all * cues->all[i] + w.slow * cues->slow[i] + w.low * cues->low[i] + w.harmonic * change;
    a->strength[i] = fminf(w.scale * x / 5.0F, 1.6F);
    a->beat[i] = is_quiet(f, i, quiet) ? CW_NO_BEAT : BEAT_SCALE * (a->strength[i] - BEAT_THRESHOLD);
    const float bar = low * fminf(cues->low[i], 3.0F) + bass * fminf(cues->bass[i], 3.0F) + harmonic * change;
    a->downbeat[i] = DOWNBEAT_SCALE * bar / 3.0F;
  }
}

/// The most within NEAR frames: whichever frame of the attack is taken for the beat.
static void widen(const float *in, size_t n, float *out)
{
  for (size_t i = 0; i < n; i++) {
    out[i] = in[i];
    for (size_t k = i > NEAR ? i - NEAR : 0; k <= i + NEAR && k < n; k++) {
      out[i] = fmaxf(out[i], in[k]);
    }
  }
}

CwStatus cw_activation_make(const CwFeatures *f, unsigned left_out, CwActivation *a)
{
  const size_t n = f->n_frames;
  Cues cues;
  *a = (CwActivation){new_curve(n), new_curve(n), new_curve(n), n};
  if (!a->beat || !a->downbeat || !a->strength || !cues_make(f, &cues)) {
    cw_activation_free(a);
    return CW_ERR_NO_MEM;
  }
  join_cues(f, &cues, left_out, a);
  float *const work[3] = {cues.all, cues.slow, cues.low}; // joined already
  const float length = weight_of(CW_CUE_LENGTH, left_out, WEIGHT_LENGTH);
  cw_lengths(a->strength, n, cues.work, work);
  for (size_t i = 0; i < n; i++) {
    a->beat[i] += a->beat[i] > CW_NO_BEAT ? length * cues.work[i] : 0.0F;
  }
  const float accent = weight_of(CW_CUE_ACCENT, left_out, WEIGHT_ACCENT);
  measure_accents(f, a->strength, cues.work, work);
  for (size_t i = 0; i < n; i++) {
    cues.low[i] = a->downbeat[i] + accent * cues.work[i];
  }
  widen(cues.low, n, a->downbeat);
  cues_free(&cues);
  return CW_OK;
}

void cw_activation_keep_tonal(const CwFeatures *f, CwActivation *a)
{
  const size_t reach = (size_t)(TONAL_S * CW_FEATURE_RATE_HZ / CW_SLOW_STEP);
  CwWindow window = {0, 0, 0};
  for (size_t row = 0; row < f->n_slow; row++) {
    if (cw_window_mean(&window, f->steadiness, f->n_slow, row, reach, false) >= TONAL_STEADINESS) {
      continue;
    }
    for (size_t i = row * CW_SLOW_STEP; i < (row + 1) * CW_SLOW_STEP && i < a->n; i++) {
      a->beat[i] = fminf(a->beat[i], CW_NO_BEAT);
    }
  }
}

void cw_activation_weigh_bars(CwActivation *a, const float *probability)
{
  double sum = 0;
  double square = 0;
  double weight = 0;
  for (size_t i = 0; i < a->n; i++) {
    const double w = (double)probability[i];
    sum += w * (double)a->downbeat[i];
    square += w * (double)a->downbeat[i] * (double)a->downbeat[i];
    weight += w;
  }
  const double mean = weight > 0 ? sum / weight : 0.0;
  const double spread = weight > 0 ? sqrt(fmax(square / weight - mean * mean, 0.0)) : 0.0;
  for (size_t i = 0; i < a->n; i++) {
    const double spreads = ((double)a->downbeat[i] - mean) / fmax(spread, LEAST_SPREAD);
    a->downbeat[i] = (float)fmin(fmax(spreads, -MOST_SPREADS), MOST_SPREADS);
  }
}

void cw_activation_free(CwActivation *a)
{
  free(a->beat);
  free(a->downbeat);
  free(a->strength);
  memset(a, 0, sizeof *a);
}
