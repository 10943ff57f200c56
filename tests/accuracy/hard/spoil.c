// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/spoil.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/clicks.h"
#include "accuracy/hard/phone.h"
#include "base/memory.h"
#include "countwright/audio.h"
#include "unit/random.h"

static const double pi = 3.14159265358979323846;
static const double rate_hz = CW_ANALYSIS_RATE_HZ;

/// Speech to talk over the music. One for the whole program: it is read once and never changed.
static struct {
  float *sample;
  size_t n, capacity;
} speech;

double cw_sound_rms(const Sound *sound)
{
  double power = 0;
  for (size_t i = 0; i < sound->n; i++)
    power += (double)sound->sample[i] * (double)sound->sample[i];
  return sound->n > 0 ? sqrt(power / (double)sound->n) : 0;
}

static CwStatus take_speech(void *user, const float *samples, size_t n)
{
  (void)user;
  for (size_t i = 0; i < n; i++) {
    if (!cw_grow(&speech.sample, &speech.capacity, speech.n, sizeof *speech.sample))
      return CW_ERR_NO_MEM;
    speech.sample[speech.n++] = samples[i];
  }
  return CW_OK;
}

bool cw_spoil_read_speech(const char *path)
{
  return cw_audio_stream(path, CW_ANALYSIS_RATE_HZ, NULL, take_speech, NULL, NULL) == CW_OK && speech.n > 0;
}

void cw_spoil_forget_speech(void)
{
  free(speech.sample);
  memset(&speech, 0, sizeof speech);
}

/// Pink noise, 10 dB below the music.
static void add_room_noise(Sound *sound, const CwHardTruth *truth)
{
  (void)truth;
  cw_noise_add(sound->sample, sound->n, 0.32 * cw_sound_rms(sound), true);
}

/// Somebody talks beside the phone all the time, 3 dB below the music.
static void add_talk_at(Sound *sound, double part)
{
  const Sound talk = {speech.sample, speech.n};
  if (talk.n == 0)
    return;
  const double gain = part * cw_sound_rms(sound) / cw_sound_rms(&talk);
  for (size_t i = 0; i < sound->n; i++)
    sound->sample[i] += (float)(gain * (double)speech.sample[i % speech.n]);
}

static void add_talk(Sound *sound, const CwHardTruth *truth)
{
  (void)truth;
  add_talk_at(sound, 0.7);
}

/// A thud on a wooden floor: 70 Hz and noise, both dying away at once.
static void add_thud(Sound *sound, double at_s, double loudness, uint64_t *seed)
{
  double smooth = 0;
  const size_t first = (size_t)(at_s * rate_hz);
  for (size_t i = first; i < sound->n && i < first + (size_t)(0.25 * rate_hz); i++) {
    const double t = (double)(i - first) / rate_hz;
    smooth += 0.25 * (random_between(seed, -1, 1) - smooth);
    sound->sample[i] += (float)(loudness * (exp(-t / 0.05) * sin(2 * pi * 70 * t) + 1.5 * exp(-t / 0.012) * smooth));
  }
}

static bool is_near_beat(const CwHardTruth *truth, double time_s)
{
  for (size_t i = 0; i < truth->n_beats; i++)
    if (fabs(truth->beat_s[i] - time_s) < 0.09)
      return true;
  return false;
}

/// Dancers landing, never on a beat, at times that mean nothing, about four in three seconds.
static void add_footfalls_at(Sound *sound, const CwHardTruth *truth, double part)
{
  uint64_t seed = 99;
  const double loudness = part * cw_sound_rms(sound), length_s = (double)sound->n / rate_hz;
  for (double t = 0.5; t < length_s; t += 0.25 - 0.5 * log(1 - random_share(&seed))) {
    const double strength = random_between(&seed, 0.5, 1.5);
    if (!is_near_beat(truth, t))
      add_thud(sound, t, strength * loudness, &seed);
  }
}

static void add_footfalls(Sound *sound, const CwHardTruth *truth)
{
  add_footfalls_at(sound, truth, 3);
}

/// Every sample beyond one and a half times the root mean square is cut off.
static void clip(Sound *sound, const CwHardTruth *truth)
{
  (void)truth;
  const double most = 1.5 * cw_sound_rms(sound);
  for (size_t i = 0; i < sound->n; i++)
    sound->sample[i] = (float)fmin(fmax((double)sound->sample[i], -most), most);
}

/// Hum of the mains with its odd and even overtones, 3 dB below the music.
static void add_hum(Sound *sound, double mains_hz)
{
  static const double partial[] = {1, 0.5, 0.6, 0.2, 0.35, 0.1, 0.2, 0.05, 0.1};
  const double rms = cw_sound_rms(sound);
  double power = 0;
  for (size_t k = 0; k < sizeof partial / sizeof *partial; k++)
    power += partial[k] * partial[k] / 2;
  for (size_t i = 0; i < sound->n; i++) {
    double hum = 0;
    for (size_t k = 0; k < sizeof partial / sizeof *partial; k++)
      hum += partial[k] * sin(2 * pi * mains_hz * (double)(k + 1) * (double)i / rate_hz + (double)(k * k));
    sound->sample[i] += (float)(0.7 * rms / sqrt(power) * hum);
  }
}

static void add_hum_50(Sound *sound, const CwHardTruth *truth)
{
  (void)truth;
  add_hum(sound, 50);
}

static void add_hum_60(Sound *sound, const CwHardTruth *truth)
{
  (void)truth;
  add_hum(sound, 60);
}

static void by_phone(Sound *sound, const CwHardTruth *truth)
{
  (void)truth;
  cw_phone_take(sound);
}

/// A class: some noise, some talk, some feet, all through a badly placed phone.
static void in_class(Sound *sound, const CwHardTruth *truth)
{
  cw_noise_add(sound->sample, sound->n, 0.1 * cw_sound_rms(sound), true);
  add_talk_at(sound, 0.35);
  add_footfalls_at(sound, truth, 1);
  cw_phone_take(sound);
}

const CwSpoil cw_spoils[] = {
    {"room noise", add_room_noise}, {"talk", add_talk},  {"footfalls", add_footfalls},
    {"far phone", by_phone},        {"clipping", clip},  {"hum of 50 Hz", add_hum_50},
    {"hum of 60 Hz", add_hum_60},   {"class", in_class},
};
const size_t cw_n_spoils = sizeof cw_spoils / sizeof *cw_spoils;
