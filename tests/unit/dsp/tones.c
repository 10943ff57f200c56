// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/dsp/tones.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "unit/cw_test.h"
#include "unit/random.h"

static const double pi = 3.14159265358979323846;
static const double ramp_s = 0.005;

Sound sound_new(double length_s)
{
  Sound sound = {NULL, (size_t)lround(length_s * CW_ANALYSIS_RATE_HZ)};
  sound.sample = cw_new(sound.n, sizeof *sound.sample);
  assert_non_null(sound.sample);
  return sound;
}

Sound sound_after_silence(const Sound *sound, double lead_s)
{
  Sound later = sound_new(lead_s + (double)sound->n / CW_ANALYSIS_RATE_HZ);
  memcpy(later.sample + (later.n - sound->n), sound->sample, sound->n * sizeof *sound->sample);
  return later;
}

void sound_free(Sound *sound)
{
  free(sound->sample);
  *sound = (Sound){NULL, 0};
}

double note_hz(double note)
{
  return 440.0 * exp2((note - 69.0) / 12.0);
}

/// Add a sine that dies away at `decay` a second (0: not at all).
static void add_sine(Sound *sound, double hz, double amplitude, double decay, double from_s, double to_s)
{
  const size_t first = (size_t)ceil(from_s * CW_ANALYSIS_RATE_HZ);
  for (size_t i = first; i < sound->n && (double)i < to_s * CW_ANALYSIS_RATE_HZ; i++) {
    const double t = (double)i / CW_ANALYSIS_RATE_HZ;
    const double ramp = fmin(1.0, fmin(t - from_s, to_s - t) / ramp_s);
    sound->sample[i] += (float)(amplitude * ramp * exp(-decay * (t - from_s)) * sin(2 * pi * hz * (t - from_s)));
  }
}

void add_tone(Sound *sound, double hz, double amplitude, double from_s, double to_s)
{
  add_sine(sound, hz, amplitude, 0.0, from_s, to_s);
}

static void add_harmonics(Sound *sound, double note, double amplitude, double decay, double from_s, double to_s)
{
  for (int k = 1; k <= 6; k++) {
    const double hz = k * note_hz(note);
    if (hz < 0.45 * CW_ANALYSIS_RATE_HZ) {
      add_sine(sound, hz, amplitude * pow(0.6, k - 1), decay * k, from_s, to_s);
    }
  }
}

void add_note(Sound *sound, double note, double amplitude, double from_s, double to_s)
{
  add_harmonics(sound, note, amplitude, 0.0, from_s, to_s);
}

void add_struck_note(Sound *sound, double note, double amplitude, double from_s, double to_s)
{
  add_harmonics(sound, note, amplitude, 1.5, from_s, to_s);
}

void add_click(Sound *sound, double amplitude, double at_s)
{
  const size_t first = (size_t)ceil(at_s * CW_ANALYSIS_RATE_HZ);
  for (size_t i = first; i < sound->n && (double)i < (at_s + 0.05) * CW_ANALYSIS_RATE_HZ; i++) {
    const double t = (double)i / CW_ANALYSIS_RATE_HZ - at_s;
    sound->sample[i] += (float)(amplitude * exp(-t / 0.008) * cos(2 * pi * 1500.0 * t));
  }
}

void add_noise(Sound *sound, double amplitude)
{
  uint64_t seed = 5;
  for (size_t i = 0; i < sound->n; i++) {
    sound->sample[i] += (float)random_between(&seed, -amplitude, amplitude);
  }
}
