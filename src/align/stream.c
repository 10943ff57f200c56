// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "align/attacks.h"
#include "align/features.h"
#include "align/scout.h"
#include "align/semitones.h"
#include "base/memory.h"
#include "countwright/audio.h"

/// The scout is this far ahead of the measuring.
static const size_t lookahead = (size_t)30 * CW_ANALYSIS_RATE_HZ;
/// Taps of the low-pass before the slow sound, to either side.
enum { LOW_PASS_REACH = 32 };
/// Samples that a frame needs to either side, with some to spare.
enum { MARGIN = CW_DEEP_STEP * CW_DEEP_REACH + LOW_PASS_REACH + 1 };

static const double shortest_s = 2.0;
/// The banks are tuned anew when the estimate has moved this far.
static const double retune_cents = 3.0;
/// A frame with a chroma shorter than this says nothing about harmony.
static const float weak_chroma = 0.5F;

/// Sample `i` of a buffer is sample `start + i` of the recording; before the first and after the last are zeros.
typedef struct {
  float *sample;
  size_t n;
  size_t room;
  long long start;
} Buffer;

struct CwAlignStream {
  CwSemitones bands;
  CwScout scout;
  CwRises rises;
  CwAttacks attacks;
  Buffer sound;
  Buffer slow;
  float low_pass[2 * LOW_PASS_REACH + 1];
  double tuned_to;
  size_t n_samples; ///< of the recording, so far
  size_t n_looks;
  size_t n_frames;
  size_t n_moments; ///< at which attacks have been sought
  size_t room;      ///< frames that `chroma` has room for
  float (*chroma)[12];
};

static void fill_low_pass(float *tap)
{
  const double pi = 3.14159265358979323846;
  const double cut = 0.5 / CW_DEEP_STEP; // half of the slow sound's own limit, in cycles a sample
  double sum = 0;
  for (int i = -LOW_PASS_REACH; i <= LOW_PASS_REACH; i++) {
    const double sinc = i == 0 ? 2 * cut : sin(2 * pi * cut * i) / (pi * i);
    const double value = sinc * (0.5 + 0.5 * cos(pi * i / (LOW_PASS_REACH + 1)));
    tap[i + LOW_PASS_REACH] = (float)value;
    sum += value;
  }
  for (int i = 0; i <= 2 * LOW_PASS_REACH; i++) {
    tap[i] = (float)(tap[i] / sum);
  }
}

static CwStatus init_buffer(Buffer *buffer, size_t room, size_t zeros)
{
  *buffer = (Buffer){cw_new(room, sizeof(float)), zeros, room, -(long long)zeros};
  return buffer->sample ? CW_OK : CW_ERR_NO_MEM;
}

/// Drop what lies before sample `from` of the recording, when that makes enough room.
static void drop_before(Buffer *buffer, long long from)
{
  const size_t drop = (size_t)(from - buffer->start);
  memmove(buffer->sample, buffer->sample + drop, (buffer->n - drop) * sizeof *buffer->sample);
  buffer->n -= drop;
  buffer->start = from;
}

static const float *at(const Buffer *buffer, long long sample)
{
  return buffer->sample + (sample - buffer->start);
}

CwStatus cw_align_stream_new(CwAlignStream **stream)
{
  *stream = cw_new(1, sizeof **stream);
  if (!*stream) {
    return CW_ERR_NO_MEM;
  }
  CwAlignStream *s = *stream;
  fill_low_pass(s->low_pass);
  if (cw_semitones_init(&s->bands) || cw_scout_init(&s->scout) ||
      init_buffer(&s->sound, 2 * lookahead + 4 * (size_t)MARGIN, MARGIN) ||
      init_buffer(&s->slow, 2 * lookahead / CW_DEEP_STEP, CW_DEEP_REACH)) {
    cw_align_stream_free(s);
    *stream = NULL;
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

/// Let the scout see what has come in.
static void run_ahead(CwAlignStream *s)
{
  const long long end = s->sound.start + (long long)s->sound.n;
  while ((long long)s->n_looks * CW_SCOUT_STEP + CW_SCOUT_REACH <= end) {
    cw_scout_look(&s->scout, at(&s->sound, (long long)s->n_looks * CW_SCOUT_STEP));
    s->n_looks++;
  }
}

/// Make the slow sound up to its sample `end`.
static void slow_down_to(CwAlignStream *s, long long end)
{
  if (s->slow.n + CW_DEEP_STEP > s->slow.room) {
    drop_before(&s->slow, end - 3 * CW_DEEP_REACH);
  }
  for (long long m = s->slow.start + (long long)s->slow.n; m < end; m++) {
    const float *middle = at(&s->sound, m * CW_DEEP_STEP);
    float sum = 0;
    for (int i = -LOW_PASS_REACH; i <= LOW_PASS_REACH; i++) {
      sum += s->low_pass[i + LOW_PASS_REACH] * middle[i];
    }
    s->slow.sample[s->slow.n++] = sum;
  }
}

static void fold_tone(const float *tone, float reference, float chroma[12])
{
  memset(chroma, 0, 12 * sizeof *chroma);
  for (size_t i = 0; i < CW_N_SEMITONES; i++) {
    chroma[(CW_LOWEST_NOTE + i) % 12] += log1pf(1000.0F * tone[i] / reference);
  }
  float square = 0;
  for (size_t k = 0; k < 12; k++) {
    square += chroma[k] * chroma[k];
  }
  const float length = sqrtf(square);
  for (size_t k = 0; k < 12; k++) {
    chroma[k] = length > weak_chroma ? chroma[k] / length : 0.28867513F; // the flat vector of length 1
  }
}

static CwStatus make_room(CwAlignStream *s)
{
  if (s->n_frames < s->room) {
    return CW_OK;
  }
  const size_t room = s->room + s->room / 2 + 4096;
  void *chroma = cw_resize(s->chroma, room, sizeof *s->chroma);
  if (!chroma) {
    return CW_ERR_NO_MEM;
  }
  s->chroma = chroma;
  s->room = room;
  return CW_OK;
}

static void retune(CwAlignStream *s)
{
  const double tuning = cw_scout_tuning(&s->scout);
  if (fabs(tuning - s->tuned_to) > retune_cents) {
    cw_semitones_tune(&s->bands, tuning);
    s->tuned_to = tuning;
  }
}

static CwStatus measure_frame(CwAlignStream *s)
{
  if (make_room(s)) {
    return CW_ERR_NO_MEM;
  }
  if (s->n_frames % (10 * CW_ALIGN_RATE_HZ) == 0) {
    retune(s);
  }
  const long long centre = (long long)s->n_frames * CW_ALIGN_HOP;
  const long long slow_centre = centre / CW_DEEP_STEP;
  slow_down_to(s, slow_centre + CW_DEEP_REACH);
  float tone[CW_N_SEMITONES];
  cw_semitones_tone(&s->bands, at(&s->sound, centre), at(&s->slow, slow_centre), tone);
  fold_tone(tone, cw_scout_reference(&s->scout), s->chroma[s->n_frames]);
  s->n_frames++;
  return CW_OK;
}

static CwStatus seek_attacks(CwAlignStream *s)
{
  float power[CW_N_SEMITONES];
  const long long centre = (long long)s->n_moments * CW_ANALYSIS_RATE_HZ / CW_ALIGN_ATTACK_RATE_HZ;
  cw_semitones_attack(&s->bands, at(&s->sound, centre), power);
  s->n_moments++;
  return cw_rises_next(&s->rises, power, cw_scout_reference(&s->scout), &s->attacks);
}

/// Measure every frame that can be, staying `behind` samples behind the end of what has come in.
static CwStatus measure(CwAlignStream *s, size_t behind)
{
  const long long end = s->sound.start + (long long)s->sound.n - (long long)behind;
  while ((long long)s->n_frames * CW_ALIGN_HOP + MARGIN <= end) {
    // two moments to a frame
    if (measure_frame(s) || seek_attacks(s) || seek_attacks(s)) {
      return CW_ERR_NO_MEM;
    }
  }
  return CW_OK;
}

static CwStatus push(CwAlignStream *s, const float *samples, size_t n, size_t behind)
{
  while (n > 0) {
    Buffer *sound = &s->sound;
    if (sound->n == sound->room) {
      drop_before(sound, (long long)s->n_frames * CW_ALIGN_HOP - MARGIN);
    }
    const size_t taken = n < sound->room - sound->n ? n : sound->room - sound->n;
    if (samples) {
      memcpy(sound->sample + sound->n, samples, taken * sizeof *samples);
      samples += taken;
    } else {
      memset(sound->sample + sound->n, 0, taken * sizeof *sound->sample);
    }
    sound->n += taken;
    n -= taken;
    run_ahead(s);
    if (measure(s, behind)) {
      return CW_ERR_NO_MEM;
    }
  }
  return CW_OK;
}

CwStatus cw_align_stream_push(void *stream, const float *samples, size_t n)
{
  CwAlignStream *s = stream;
  s->n_samples += n;
  return push(s, samples, n, lookahead);
}

CwStatus cw_align_stream_finish(CwAlignStream *s, CwAlignFeatures **features)
{
  *features = NULL;
  if ((double)s->n_samples < shortest_s * CW_ANALYSIS_RATE_HZ) {
    return CW_ERR_TOO_SHORT;
  }
  if (push(s, NULL, MARGIN, 0)) {
    return CW_ERR_NO_MEM;
  }
  if (cw_rises_next(&s->rises, NULL, 1.0F, &s->attacks) || cw_attacks_settle(&s->attacks)) {
    return CW_ERR_NO_MEM;
  }
  return cw_align_features_make(s->n_frames, s->chroma, &s->attacks, (double)s->n_samples / CW_ANALYSIS_RATE_HZ,
                                cw_scout_tuning(&s->scout), features);
}

void cw_align_stream_free(CwAlignStream *s)
{
  if (!s) {
    return;
  }
  cw_semitones_free(&s->bands);
  cw_scout_free(&s->scout);
  free(s->sound.sample);
  free(s->slow.sample);
  free(s->chroma);
  free(s->attacks.attack);
  free(s);
}
