// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/activation.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

// Weights of the cues, and what an onset of ordinary strength must have to be as likely a beat as not.
#define WEIGHT_ALL 1.0F
#define WEIGHT_SLOW 1.0F
#define WEIGHT_LOW 0.5F
#define WEIGHT_HARMONIC 0.6F
#define BEAT_SCALE 1.6F
#define BEAT_THRESHOLD 0.35F
#define DOWNBEAT_SCALE 1.0F
#define UNREST_S 0.5    // how far on each side the unrest of a sustained sound is measured
#define FLOOR_ALL 0.01F // least unrest that counts, in units of the features
#define FLOOR_SLOW 0.02F
#define FLOOR_LOW 0.01F
#define FLOOR_HARMONIC 0.01F
#define LOCAL_S 6.0          // strengths are compared with those this near
#define NO_BEAT (-4.0F)      // where nothing sounds, or nothing that is music
#define TONAL_S 5.0          // notes are looked for this far on each side
#define TONAL_STEADINESS 0.3 // noise stays under 0.2, talk under 0.27, music over 0.37
#define SILENCE_DB 50.0      // this far below the loudest moment nothing counts

static float *new_curve(size_t n)
{
  return cw_new(n, sizeof(float));
}

/// Sums over a window that slides along a curve.
typedef struct {
  double sum;
  size_t from, to;
} Window;

/// Move a window of sums of `in` (or of its squares) to `reach` frames on each side of frame `i`. @return The mean.
static double window_mean(Window *w, const float *in, size_t n, size_t i, size_t reach, bool square)
{
  const size_t want_to = i + reach + 1 < n ? i + reach + 1 : n;
  const size_t want_from = i > reach ? i - reach : 0;
  for (; w->to < want_to; w->to++) {
    w->sum += (double)in[w->to] * (square ? (double)in[w->to] : 1.0);
  }
  for (; w->from < want_from; w->from++) {
    w->sum -= (double)in[w->from] * (square ? (double)in[w->from] : 1.0);
  }
  return fmax(w->sum, 0.0) / (double)(w->to - w->from);
}

/// Take off the local mean (the unrest of a sustained sound), keep what stands out.
static void stand_out(const float *in, size_t n, float *out)
{
  const size_t reach = (size_t)(UNREST_S * CW_FEATURE_RATE_HZ);
  Window window = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    out[i] = fmaxf(0.0F, in[i] - (float)window_mean(&window, in, n, i, reach, false));
  }
}

/// Divide by the local root mean square, over LOCAL_S to each side, but by no less than `floor`.
static void normalise(const float *in, size_t n, double floor, float *out)
{
  const size_t reach = (size_t)(LOCAL_S * CW_FEATURE_RATE_HZ);
  Window window = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    const double rms = sqrt(window_mean(&window, in, n, i, reach, true));
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

static float loudest(const CwFeatures *f)
{
  float most = -120.0F;
  for (size_t i = 0; i < f->n_frames; i++) {
    most = fmaxf(most, f->level_db[i]);
  }
  return most;
}

CwStatus cw_activation_make(const CwFeatures *f, CwActivation *a)
{
  const size_t n = f->n_frames;
  Cues cues;
  *a = (CwActivation){new_curve(n), new_curve(n), new_curve(n), n};
  if (!a->beat || !a->downbeat || !a->strength || !cues_make(f, &cues)) {
    cw_activation_free(a);
    return CW_ERR_NO_MEM;
  }
  const float quiet = fmaxf(loudest(f) - (float)SILENCE_DB, -75.0F);
  for (size_t i = 0; i < n; i++) {
    // a change of harmony speaks for a beat only where something sounds
    const float change = fminf(cues.harmonic[i], 2.5F) * fminf(cues.slow[i], 1.0F);
    const float x =
        WEIGHT_ALL * cues.all[i] + WEIGHT_SLOW * cues.slow[i] + WEIGHT_LOW * cues.low[i] + WEIGHT_HARMONIC * change;
    a->strength[i] = fminf(x / 5.0F, 1.6F);
    a->beat[i] = f->level_db[i] < quiet ? NO_BEAT : BEAT_SCALE * (a->strength[i] - BEAT_THRESHOLD);
    const float bar = 0.5F * fminf(cues.low[i], 3.0F) + 0.6F * fminf(cues.bass[i], 3.0F) + 0.6F * change;
    a->downbeat[i] = DOWNBEAT_SCALE * (bar / 3.0F - 0.5F);
  }
  cues_free(&cues);
  return CW_OK;
}

void cw_activation_keep_tonal(const CwFeatures *f, CwActivation *a)
{
  const size_t reach = (size_t)(TONAL_S * CW_FEATURE_RATE_HZ / CW_SLOW_STEP);
  Window window = {0, 0, 0};
  for (size_t row = 0; row < f->n_slow; row++) {
    if (window_mean(&window, f->steadiness, f->n_slow, row, reach, false) >= TONAL_STEADINESS) {
      continue;
    }
    for (size_t i = row * CW_SLOW_STEP; i < (row + 1) * CW_SLOW_STEP && i < a->n; i++) {
      a->beat[i] = fminf(a->beat[i], NO_BEAT);
    }
  }
}

void cw_activation_free(CwActivation *a)
{
  free(a->beat);
  free(a->downbeat);
  free(a->strength);
  memset(a, 0, sizeof *a);
}
