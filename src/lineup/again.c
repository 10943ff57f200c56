// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/again.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/expect.h"
#include "lineup/follow.h"
#include "lineup/pins.h"

enum { STEP = 5 }; // frames put together for the coarse search

#define COARSE_RATIO 1.09
#define COARSE_CELLS 1.0e6 // counts times frames of the band: many searches, so each is small
#define COARSE_MOST 60000.0

CwStatus cw_again_init(CwAgain *again, const CwFeatures *features, CwKept *kept)
{
  *again = (CwAgain){.features = features, .kept = *kept};
  memset(kept, 0, sizeof *kept);
  const CwActivation *a = &again->kept.look.activation;
  again->n = a->n / STEP;
  again->beat = cw_new(again->n + 1, sizeof *again->beat);
  again->accent = cw_new(again->n + 1, sizeof *again->accent);
  again->sounding = cw_new(again->n + 1, sizeof *again->sounding);
  if (!again->beat || !again->accent || !again->sounding) {
    cw_again_free(again);
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < again->n; i++) {
    again->beat[i] = a->beat[i * STEP];
    again->accent[i] = a->downbeat[i * STEP];
    for (size_t k = 1; k < STEP; k++) {
      again->beat[i] = fmaxf(again->beat[i], a->beat[i * STEP + k]);
      again->accent[i] = fmaxf(again->accent[i], a->downbeat[i * STEP + k]);
    }
    again->sounding[i + 1] = again->kept.sound.before_s[(i + 1) * STEP];
  }
  return CW_OK;
}

/// Bands of `width` frames around the times found, or around the pins.
static void set_bands(const CwFall *fall, double rate_hz, size_t width, size_t *first)
{
  for (size_t i = 0; i < fall->plan.n; i++) {
    const double pin_s = fall->plan.count[i].pin_s;
    const double begin = round((isnan(pin_s) ? fall->time_s[i] : pin_s) * rate_hz) - (double)width / 2.0;
    first[i] = begin > 0 ? (size_t)begin : 0;
  }
}

static CwStatus search(const CwAgain *again, bool fine, size_t *first, CwFall *fall)
{
  const CwLook *look = &again->kept.look;
  const double rate_hz = (double)CW_FEATURE_RATE_HZ / STEP;
  const CwSight coarse = {rate_hz, again->n, again->beat, again->accent, again->sounding, look->offbeat_weight};
  const double most = fmin(fmax(COARSE_CELLS / (double)fall->plan.n, 40.0), COARSE_MOST);
  CwBands bands = {first, (size_t)fmin(most, (double)again->n + 1), COARSE_RATIO,
                   cw_likely_count(&fall->plan, &again->kept.sound), CW_TEMPO_SPREAD};
  cw_expect_times(&fall->plan, &again->kept.sound, fall->time_s);
  cw_expect_stretches(&fall->plan, &again->kept.sound, bands.likely_s);
  set_bands(fall, coarse.rate_hz, bands.width, first);
  CwStatus status =
      cw_follow_scored(&fall->plan, &coarse, &bands, again->report, fall->time_s, &fall->n_found, &fall->score);
  if (status != CW_OK || !fine) {
    return status;
  }
  for (size_t i = fall->n_found; i < fall->plan.n; i++) { // without music: near the end, wherever
    fall->time_s[i] = fall->time_s[i - 1];
  }
  const CwActivation *a = &look->activation;
  const CwSight sight = {CW_FEATURE_RATE_HZ,  a->n, a->beat, a->downbeat, again->kept.sound.before_s,
                         look->offbeat_weight};
  bands.width = (size_t)(2 * CW_FINE_REACH_S * CW_FEATURE_RATE_HZ);
  bands.tempo_ratio = CW_FINE_RATIO;
  set_bands(fall, sight.rate_hz, bands.width, first);
  return cw_follow_scored(&fall->plan, &sight, &bands, again->report, fall->time_s, &fall->n_found, &fall->score);
}

CwStatus cw_again_follow(const CwAgain *again, const CwNotebook *notebook, bool fine, CwFall *fall)
{
  CwMessages said = {0}; // of the notes as they are it was said already
  *fall = (CwFall){.n_found = 0};
  CwStatus status = cw_plan_make(notebook, again->beats_per_count, &fall->plan, &said);
  if (status == CW_OK && !again->without_pins) {
    status = cw_pins_set(notebook, again->features->duration_s, &fall->plan, &said);
  }
  cw_messages_free(&said);
  if (status == CW_OK && fall->plan.n == 0) {
    status = CW_ERR_NO_PULSE;
  }
  size_t *first = status == CW_OK ? cw_new(fall->plan.n, sizeof *first) : NULL;
  fall->time_s = status == CW_OK ? cw_new(fall->plan.n, sizeof *fall->time_s) : NULL;
  if (status == CW_OK) {
    status = first && fall->time_s ? search(again, fine, first, fall) : CW_ERR_NO_MEM;
  }
  free(first);
  if (status != CW_OK) {
    cw_fall_free(fall);
  }
  return status;
}

void cw_fall_free(CwFall *fall)
{
  cw_plan_free(&fall->plan);
  free(fall->time_s);
  *fall = (CwFall){.n_found = 0};
}

void cw_again_free(CwAgain *again)
{
  cw_look_free(&again->kept.look);
  cw_sound_free(&again->kept.sound);
  free(again->beat);
  free(again->accent);
  free(again->sounding);
  *again = (CwAgain){0};
}
