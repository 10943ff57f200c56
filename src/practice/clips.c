// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/clips.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "audio/resample.h"
#include "base/memory.h"

enum { KEPT = 97, CLICKS = 3 };

/// Loudness that words are brought to: the level of their louder half.
static const double words_level = 0.2;

/// Words that were said.
typedef struct {
  char *text;
  unsigned words_per_min;
  float *sample;
  size_t n;
  size_t onset;
} Said;

struct CwClips {
  unsigned rate_hz;
  CwVoice *voice;
  float *click[CLICKS];
  size_t click_n[CLICKS];
  Said said[KEPT]; ///< by a hash of the text
};

/// A short stroke with two partials that begins at once: the first sample is already loud.
static CwStatus make_click(CwClips *clips, CwClipKind kind)
{
  static const struct {
    double pitch_hz, height, decay_s;
  } sound[CLICKS] = {{1980, 0.5, 0.016}, {1320, 0.4, 0.014}, {990, 0.2, 0.010}};
  const double rate = clips->rate_hz;
  const size_t n = (size_t)(6 * sound[kind].decay_s * rate);
  float *sample = cw_new(n, sizeof *sample);
  if (!sample) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n; i++) {
    const double t = (double)i / rate;
    const double turn = 2 * 3.14159265358979323846 * sound[kind].pitch_hz * t;
    sample[i] =
        (float)(sound[kind].height * exp(-t / sound[kind].decay_s) * (0.7 * cos(turn) + 0.3 * cos(2.76 * turn)));
  }
  clips->click[kind] = sample;
  clips->click_n[kind] = n;
  return CW_OK;
}

CwStatus cw_clips_new(unsigned rate_hz, bool with_voice, CwLanguage language, CwClips **clips)
{
  *clips = NULL;
  CwClips *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  made->rate_hz = rate_hz;
  CwStatus status = with_voice ? cw_voice_open(language, &made->voice) : CW_OK;
  for (int kind = 0; kind < CLICKS && status == CW_OK; kind++) {
    status = make_click(made, (CwClipKind)kind);
  }
  if (status != CW_OK) {
    cw_clips_free(made);
    return status;
  }
  *clips = made;
  return CW_OK;
}

/// The level of the louder half of a sound, 10 ms by 10 ms, as a root mean square.
static double level_of(const float *sample, size_t n, unsigned rate_hz)
{
  const size_t window = rate_hz / 100;
  double loudest = 0;
  double sum = 0;
  size_t counted = 0;
  for (int pass = 0; pass < 2; pass++) {
    for (size_t at = 0; at < n; at += window) {
      double energy = 0;
      const size_t end = at + window < n ? at + window : n;
      for (size_t i = at; i < end; i++) {
        energy += (double)(sample[i] * sample[i]);
      }
      energy /= (double)window;
      loudest = fmax(loudest, energy);
      if (pass == 1 && energy > 0.1 * loudest) {
        sum += energy;
        counted++;
      }
    }
  }
  return counted ? sqrt(sum / (double)counted) : 0;
}

/// Bring words to one level, and let them end without a click.
static void finish(Said *said, unsigned rate_hz)
{
  const double level = level_of(said->sample, said->n, rate_hz);
  const float gain = level > 0 ? (float)(words_level / level) : 0;
  const size_t fade = rate_hz / 300;
  for (size_t i = 0; i < said->n; i++) {
    const size_t left = said->n - i;
    said->sample[i] *= left < fade ? gain * (float)left / (float)fade : gain;
  }
}

/// Bring what was said to the rate of the clips.
static CwStatus convert(const CwClips *clips, const CwSpeech *speech, Said *said)
{
  CwResampler *resampler = NULL;
  const unsigned from_hz = cw_voice_rate(clips->voice);
  CwStatus status = cw_resampler_new(from_hz, clips->rate_hz, &resampler);
  if (status != CW_OK) {
    return status;
  }
  said->sample = cw_new(cw_resampler_room(resampler, speech->n), sizeof(float));
  status = said->sample ? cw_resampler_run(resampler, speech->sample, speech->n, true, said->sample, &said->n)
                        : CW_ERR_NO_MEM;
  cw_resampler_free(resampler);
  said->onset = (size_t)llround((double)speech->onset * clips->rate_hz / from_hz);
  said->onset = said->onset < said->n ? said->onset : 0;
  return status;
}

static void forget(Said *said)
{
  free(said->text);
  free(said->sample);
  *said = (Said){0};
}

static CwStatus say(CwClips *clips, const char *text, unsigned words_per_min, Said *said)
{
  CwSpeech speech = {0};
  CwStatus status = cw_voice_say(clips->voice, text, words_per_min, &speech);
  if (status == CW_OK && speech.n > 0) {
    status = convert(clips, &speech, said);
  }
  free(speech.sample);
  if (status == CW_OK) {
    said->text = cw_copy_text(text, strlen(text));
    said->words_per_min = words_per_min;
    status = said->text ? CW_OK : CW_ERR_NO_MEM;
  }
  if (status == CW_OK) {
    finish(said, clips->rate_hz);
  } else {
    forget(said);
  }
  return status;
}

static size_t place_of(const char *text, unsigned words_per_min)
{
  uint32_t hash = 2166136261U ^ words_per_min; // FNV-1a
  for (; *text; text++) {
    hash = (hash ^ (unsigned char)*text) * 16777619U;
  }
  return hash % KEPT;
}

CwStatus cw_clips_get(CwClips *clips, CwClipKind kind, const char *text, unsigned words_per_min, CwClip *clip)
{
  *clip = (CwClip){0};
  if (kind != CW_WORDS) {
    *clip = (CwClip){clips->click[kind], clips->click_n[kind], 0};
    return CW_OK;
  }
  Said *said = &clips->said[place_of(text, words_per_min)];
  if (!said->text || said->words_per_min != words_per_min || strcmp(said->text, text) != 0) {
    forget(said);
    const CwStatus status = say(clips, text, words_per_min, said);
    if (status != CW_OK) {
      return status;
    }
  }
  *clip = (CwClip){said->sample, said->n, said->onset};
  return CW_OK;
}

void cw_clips_free(CwClips *clips)
{
  if (!clips) {
    return;
  }
  for (size_t i = 0; i < KEPT; i++) {
    forget(&clips->said[i]);
  }
  for (size_t i = 0; i < CLICKS; i++) {
    free(clips->click[i]);
  }
  cw_voice_free(clips->voice);
  free(clips);
}
