// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/mix.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "practice/stretch.h"

/// The music is softer from so long before a sound to so long after it: it stays so between counts that follow each other,
/// instead of swelling in each gap.
static const double duck_before_s = 0.08;
static const double duck_after_s = 0.5;
static const double duck_down_s = 0.03;
static const double duck_up_s = 0.3;

/// How a word is cut off by the next.
static const double cut_s = 0.012;

struct CwMix {
  CwMixParts parts;
  long long at; ///< next sample
  size_t span;  ///< being played, or next
  CwStretch *stretch;
  bool playing;
  long long from; ///< of the recording, where nothing is stretched
  size_t sound;   ///< first that may still sound
  size_t ducked;  ///< next sound to duck for
  double duck_until_s;
  double duck; ///< gain now
};

CwStatus cw_mix_new(const CwMixParts *parts, CwMix **mix)
{
  *mix = cw_new(1, sizeof **mix);
  if (!*mix) {
    return CW_ERR_NO_MEM;
  }
  **mix = (CwMix){.parts = *parts, .duck = 1, .duck_until_s = -1};
  return CW_OK;
}

static CwStatus read_music(void *user, long long from, float *out, size_t n)
{
  return cw_scratch_read(user, from, out, n);
}

static long long sample_at(const CwMix *mix, double time_s)
{
  return llround(time_s * mix->parts.rate_hz);
}

static CwStatus begin_span(CwMix *mix, const CwScoreSpan *span)
{
  mix->playing = true;
  const CwPaceCurve *curve = &span->curve;
  // a span begins at or before the first knot, where the pace is the outer one
  const double from_s = curve->knot[0].from_s + (span->from_s - span->zero_s) / curve->outer;
  mix->from = sample_at(mix, from_s);
  if (curve->as_it_is) {
    return CW_OK;
  }
  return cw_stretch_new(mix->parts.rate_hz, curve, from_s, read_music, mix->parts.music, &mix->stretch);
}

static CwStatus read_span(CwMix *mix, float *out, size_t n)
{
  if (mix->stretch) {
    return cw_stretch_read(mix->stretch, out, n);
  }
  const CwStatus status = cw_scratch_read(mix->parts.music, mix->from, out, n);
  mix->from += (long long)n;
  return status;
}

static void end_span(CwMix *mix)
{
  cw_stretch_free(mix->stretch);
  mix->stretch = NULL;
  mix->playing = false;
  mix->span++;
}

/// Let a span come in and go out.
static void fade(const CwMix *mix, const CwScoreSpan *span, long long first, float *out, size_t n)
{
  const double in = span->fade_in_s * mix->parts.rate_hz;
  const double away = span->fade_out_s * mix->parts.rate_hz;
  const long long begin = sample_at(mix, span->from_s);
  const long long end = sample_at(mix, span->to_s);
  for (size_t i = 0; i < n; i++) {
    const long long at = first + (long long)i;
    const double gone = (double)(at - begin);
    const double left = (double)(end - at);
    if (gone < in || left < away) {
      out[i] *= (float)(fmin(1, in > 0 ? gone / in : 1) * fmin(1, away > 0 ? left / away : 1));
    }
  }
}

static CwStatus add_music(CwMix *mix, float *out, size_t n)
{
  const CwScore *score = mix->parts.score;
  const long long end = mix->at + (long long)n;
  CwStatus status = CW_OK;
  while (status == CW_OK && mix->span < score->n_spans) {
    const CwScoreSpan *span = &score->span[mix->span];
    const long long begins = sample_at(mix, span->from_s);
    const long long ends = sample_at(mix, span->to_s);
    if (begins >= end) {
      break;
    }
    if (!mix->playing) {
      status = begin_span(mix, span);
    }
    const long long first = begins > mix->at ? begins : mix->at;
    const long long last = ends < end ? ends : end;
    if (status == CW_OK && last > first) {
      status = read_span(mix, out + (first - mix->at), (size_t)(last - first));
      fade(mix, span, first, out + (first - mix->at), (size_t)(last - first));
    }
    if (ends > end) {
      break;
    }
    end_span(mix);
  }
  return status;
}

/// Whether the music is to be softer at a time. Times ascend from call to call.
static bool is_ducked(CwMix *mix, double time_s)
{
  const CwScore *score = mix->parts.score;
  while (mix->ducked < score->n_sounds && score->sound[mix->ducked].from_s - duck_before_s <= time_s) {
    mix->duck_until_s = fmax(mix->duck_until_s, score->sound[mix->ducked++].to_s + duck_after_s);
  }
  return time_s <= mix->duck_until_s;
}

static void soften(CwMix *mix, float *out, size_t n)
{
  const double rate = mix->parts.rate_hz;
  const double down = 1 - exp(-1 / (duck_down_s * rate));
  const double up = 1 - exp(-1 / (duck_up_s * rate));
  for (size_t i = 0; i < n; i++) {
    const bool ducked = is_ducked(mix, (double)(mix->at + (long long)i) / rate);
    mix->duck += (ducked ? mix->parts.duck_gain - mix->duck : 1 - mix->duck) * (ducked ? down : up);
    out[i] *= (float)(mix->parts.music_gain * mix->duck);
  }
}

/// Add what of a sound lies in a block.
static CwStatus add_sound(CwMix *mix, const CwScoreSound *sound, float *out, size_t n)
{
  CwClip clip;
  const char *text = sound->kind == CW_WORDS ? mix->parts.score->text[sound->text] : NULL;
  const CwStatus status = cw_clips_get(mix->parts.clips, sound->kind, text, sound->words_per_min, &clip);
  if (status != CW_OK) {
    return status;
  }
  const long long begin = sample_at(mix, sound->from_s);
  const double cut = cut_s * mix->parts.rate_hz;
  const double until = sound->until_s * mix->parts.rate_hz;
  const long long first = begin > mix->at ? begin : mix->at;
  const long long end = begin + (long long)clip.n;
  for (long long at = first; at < end && at < mix->at + (long long)n; at++) {
    const double left = (until - (double)at) / cut;
    const float gain = sound->gain * (float)fmin(1, fmax(0, left));
    out[at - mix->at] += gain * clip.sample[at - begin];
  }
  return CW_OK;
}

static CwStatus add_sounds(CwMix *mix, float *out, size_t n)
{
  const CwScore *score = mix->parts.score;
  const double begin_s = (double)mix->at / mix->parts.rate_hz;
  const double end_s = (double)(mix->at + (long long)n) / mix->parts.rate_hz;
  while (mix->sound < score->n_sounds && score->sound[mix->sound].to_s + 0.01 < begin_s) {
    mix->sound++;
  }
  CwStatus status = CW_OK;
  for (size_t i = mix->sound; i < score->n_sounds && score->sound[i].from_s <= end_s && status == CW_OK; i++) {
    status = add_sound(mix, &score->sound[i], out, n);
  }
  return status;
}

CwStatus cw_mix_read(CwMix *mix, float *out, size_t n)
{
  memset(out, 0, n * sizeof *out);
  CwStatus status = add_music(mix, out, n);
  if (status == CW_OK) {
    soften(mix, out, n);
    status = add_sounds(mix, out, n);
  }
  mix->at += (long long)n;
  return status;
}

void cw_mix_free(CwMix *mix)
{
  if (mix) {
    cw_stretch_free(mix->stretch);
    free(mix);
  }
}
