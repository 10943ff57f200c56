// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/clicks.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <sndfile.h>

static const double pi = 3.14159265358979323846;
static const double click_length_s = 0.05;
static const double hiss_rms = 0.0001; ///< -80 dB of full scale

#define STEADY(bpm)                                                                                                    \
  {                                                                                                                    \
    "steady-" #bpm, 28, bpm, bpm, 0, 0, 0, 0, 0, 0, false                                                              \
  }

const CwClickSpec cw_click_specs[] = {
    // name, length, tempo from, to, jump at, pause at, pause, metre, second accent, noise, digital silence
    STEADY(40),
    STEADY(50),
    STEADY(60),
    STEADY(72),
    STEADY(80),
    STEADY(90),
    STEADY(100),
    STEADY(110),
    STEADY(120),
    STEADY(132),
    STEADY(144),
    STEADY(160),
    STEADY(180),
    STEADY(200),
    STEADY(220),
    {"ramp-80-120", 30, 80, 120, 0, 0, 0, 0, 0, 0, false},
    {"ramp-120-80", 30, 120, 80, 0, 0, 0, 0, 0, 0, false},
    {"jump-90-126", 30, 90, 126, 15, 0, 0, 0, 0, 0, false},
    {"pause-100", 30, 100, 100, 0, 12, 5, 0, 0, 0, false},
    {"metre-2-4", 28, 108, 108, 0, 0, 0, 2, 0, 0, false},
    {"metre-3-4", 28, 132, 132, 0, 0, 0, 3, 0, 0, false},
    {"metre-4-4", 28, 112, 112, 0, 0, 0, 4, 3, 0, false},
    {"metre-6-8", 28, 190, 190, 0, 0, 0, 6, 4, 0, false},
    {"digital-120", 28, 120, 120, 0, 0, 0, 0, 0, 0, true},
    {"noise-83", 28, 83, 83, 0, 0, 0, 0, 0, 10, false},
    {"noise-117", 28, 117, 117, 0, 0, 0, 0, 0, 10, false},
    {"noise-3-4", 28, 151, 151, 0, 0, 0, 3, 0, 10, false},
};
const size_t cw_n_click_specs = sizeof cw_click_specs / sizeof *cw_click_specs;

const CwClickSpec *cw_click_spec(const char *name)
{
  for (size_t i = 0; i < cw_n_click_specs; i++)
    if (strcmp(cw_click_specs[i].name, name) == 0)
      return &cw_click_specs[i];
  return NULL;
}

/// Silence before the first click: another part of 10 ms for each tempo, so that no grid of a tracker fits the clicks.
static double lead_s(const CwClickSpec *spec)
{
  return 0.5 + 0.01 * fmod(spec->start_bpm * 0.6180339887, 1);
}

/// When click `k` begins, counted from the first click.
static double click_time(const CwClickSpec *spec, double k)
{
  double a = spec->start_bpm / 60, b = spec->end_bpm / 60;
  if (spec->jump_at_s > 0) {
    double before = ceil(spec->jump_at_s * a); // the last old interval is whole
    return k <= before ? k / a : before / a + (k - before) / b;
  }
  if (a == b)
    return k / a;
  // k = a t + (b - a) t^2 / (2 length), solved for t
  double slope = (b - a) / spec->length_s;
  return (sqrt(a * a + 2 * slope * k) - a) / slope;
}

/// A click: a short bright tone that begins at once and dies away, exact to a part of a sample.
static void add_click(CwClickTrack *track, unsigned rate_hz, double start_s, double loudness, double pitch_hz)
{
  size_t first = (size_t)ceil(start_s * rate_hz);
  size_t end = (size_t)((start_s + click_length_s) * rate_hz);
  for (size_t i = first; i < end && i < track->n_samples; i++) {
    double t = (double)i / rate_hz - start_s;
    track->sample[i] += (float)(loudness * exp(-t / 0.008) * sin(2 * pi * pitch_hz * t));
  }
}

static bool is_in_pause(const CwClickSpec *spec, double time_s)
{
  return spec->pause_s > 0 && time_s >= spec->pause_at_s && time_s < spec->pause_at_s + spec->pause_s;
}

static void render_clicks(const CwClickSpec *spec, unsigned rate_hz, CwClickTrack *track)
{
  for (size_t k = 0;; k++) {
    double time_s = lead_s(spec) + click_time(spec, (double)k);
    if (time_s + click_length_s > spec->length_s)
      return;
    if (is_in_pause(spec, time_s))
      continue;
    size_t place = spec->metre > 0 ? k % spec->metre + 1 : 0;
    double loudness = place == 0 ? 0.5 : place == 1 ? 0.7 : place == spec->second_accent ? 0.4 : 0.25;
    add_click(track, rate_hz, time_s, loudness, place == 1 ? 1500 : 1000);
    track->click_s[track->n_clicks] = time_s;
    track->accent[track->n_clicks++] = place == 1;
  }
}

static double noise_rms(const CwClickSpec *spec, const CwClickTrack *track)
{
  if (spec->noise_db <= 0)
    return hiss_rms;
  double power = 0;
  for (size_t i = 0; i < track->n_samples; i++)
    power += (double)track->sample[i] * (double)track->sample[i];
  return sqrt(power / (double)track->n_samples) * pow(10, -spec->noise_db / 20);
}

bool cw_click_track_make(const CwClickSpec *spec, unsigned rate_hz, CwClickTrack *track)
{
  *track = (CwClickTrack){0};
  track->n_samples = (size_t)(spec->length_s * rate_hz);
  size_t most = (size_t)(spec->length_s * fmax(spec->start_bpm, spec->end_bpm) / 60) + 2;
  track->sample = calloc(track->n_samples, sizeof *track->sample);
  track->click_s = calloc(most, sizeof *track->click_s);
  track->accent = calloc(most, sizeof *track->accent);
  if (track->sample == NULL || track->click_s == NULL || track->accent == NULL) {
    cw_click_track_free(track);
    return false;
  }
  render_clicks(spec, rate_hz, track);
  if (!spec->digital_silence)
    cw_noise_add(track->sample, track->n_samples, noise_rms(spec, track), false);
  return true;
}

void cw_click_track_free(CwClickTrack *track)
{
  free(track->sample);
  free(track->click_s);
  free(track->accent);
  *track = (CwClickTrack){0};
}

/// Even numbers from -1 to 1 (a 64 bit linear congruential generator, constants of Knuth's MMIX).
static double next_random(uint64_t *state)
{
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  return (double)(*state >> 11) / 4503599627370496.0 - 1;
}

void cw_noise_add(float *sample, size_t n, double rms, bool pink)
{
  // white noise of variance 1, or its sum over ever slower generators (Voss and McCartney), which is pink
  enum { ROWS = 14 };
  double row[ROWS] = {0};
  uint64_t state = 20240229;
  double scale = rms * sqrt(3) / (pink ? sqrt(ROWS) : 1);
  for (size_t i = 0; i < n; i++) {
    double value = next_random(&state);
    if (pink) {
      unsigned r = 0;
      while (r + 1 < ROWS && ((i >> r) & 1) == 0)
        r++;
      row[r] = value;
      value = 0;
      for (r = 0; r < ROWS; r++)
        value += row[r];
    }
    sample[i] += (float)(scale * value);
  }
}

bool cw_wav_write(const char *path, const float *sample, size_t n, unsigned rate_hz)
{
  SF_INFO info = {.samplerate = (int)rate_hz, .channels = 1, .format = SF_FORMAT_WAV | SF_FORMAT_PCM_16};
  SNDFILE *file = sf_open(path, SFM_WRITE, &info);
  if (file == NULL)
    return false;
  bool whole = sf_write_float(file, sample, (sf_count_t)n) == (sf_count_t)n;
  return sf_close(file) == 0 && whole;
}
