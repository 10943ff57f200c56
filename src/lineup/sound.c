// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/sound.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

#define QUIET_DB 45.0 // this far below the loudest moment nothing sounds
#define BEGIN_S 3.0   // before music, less than half of such a time sounds: a cough, a chair, a few words

double cw_tonal_share(const CwFeatures *f)
{
  size_t tonal = 0;
  size_t sounding = 0;
  for (size_t i = 0; i < f->n_slow; i++) {
    sounding += f->level_db[i * CW_SLOW_STEP] > -70.0F;
    tonal += f->steadiness[i] > 0.3F;
  }
  return sounding > 0 ? (double)tonal / (double)sounding : 0.0;
}

/// Take what sounds before the music begins for nothing.
static void leave_out_lead(CwSound *sound)
{
  const size_t reach = (size_t)(BEGIN_S * CW_FEATURE_RATE_HZ);
  size_t begin = 0;
  while (begin + reach < sound->n && (sound->before_s[begin + 1] <= sound->before_s[begin] ||
                                      sound->before_s[begin + reach] - sound->before_s[begin] < 0.5 * BEGIN_S)) {
    begin++;
  }
  if (begin + reach >= sound->n) {
    return; // no music, or too short to tell
  }
  const double lead_s = sound->before_s[begin];
  for (size_t i = 0; i <= sound->n; i++) {
    sound->before_s[i] = fmax(sound->before_s[i] - lead_s, 0.0);
  }
}

CwStatus cw_sound_measure(const CwFeatures *f, const CwActivation *activation, CwSound *sound)
{
  *sound = (CwSound){cw_new(f->n_frames + 1, sizeof *sound->before_s), f->n_frames};
  if (!sound->before_s) {
    sound->n = 0;
    return CW_ERR_NO_MEM;
  }
  float loudest = -120.0F;
  for (size_t i = 0; i < f->n_frames; i++) {
    loudest = fmaxf(loudest, f->level_db[i]);
  }
  for (size_t i = 0; i < f->n_frames; i++) {
    const bool sounds = f->level_db[i] > loudest - (float)QUIET_DB && activation->beat[i] > CW_NO_BEAT;
    sound->before_s[i + 1] = sound->before_s[i] + (sounds ? 1.0 / CW_FEATURE_RATE_HZ : 0.0);
  }
  leave_out_lead(sound);
  return CW_OK;
}

double cw_sound_end(const CwSound *sound)
{
  size_t n = sound->n;
  while (n > 0 && sound->before_s[n] - sound->before_s[n - 1] <= 0) {
    n--;
  }
  return (double)n / CW_FEATURE_RATE_HZ;
}

double cw_sound_begin(const CwSound *sound)
{
  size_t i = 0;
  while (i < sound->n && sound->before_s[i + 1] <= 0) {
    i++;
  }
  return (double)i / CW_FEATURE_RATE_HZ;
}

double cw_sound_between(const CwSound *sound, double from_s, double to_s)
{
  const double most = (double)sound->n;
  const size_t from = (size_t)fmin(fmax(from_s, 0.0) * CW_FEATURE_RATE_HZ, most);
  const size_t to = (size_t)fmin(fmax(to_s, 0.0) * CW_FEATURE_RATE_HZ, most);
  return to > from ? sound->before_s[to] - sound->before_s[from] : 0.0;
}

void cw_sound_free(CwSound *sound)
{
  free(sound->before_s);
  memset(sound, 0, sizeof *sound);
}
