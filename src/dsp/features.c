// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/features.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "dsp/band_rows.h"
#include "dsp/change.h"
#include "dsp/compress.h"
#include "dsp/filter_bank.h"
#include "dsp/spectrum.h"
#include "dsp/stream.h"

#define HALF (CW_LONG_WINDOW / 2)
#define FLUX_LAG 2  // frames between which the flux is taken
#define SLOW_SIDE 5 // frames averaged on each side for slow attacks ...
#define SLOW_GAP 4  // ... and left out between them
#define PAST 16     // frames of history, at least 2 * SLOW_SIDE + SLOW_GAP

/// Measures one recording, sample by sample.
typedef struct {
  CwSpectrum *spectrum;
  CwFilterBank bank;
  CwFeatures *out;
  size_t capacity; ///< frames there is room for
  size_t attack_capacity;
  float *buffer; ///< samples not yet used up
  size_t n_buffered;
  size_t buffer_start; ///< index of buffer[0] in the recording padded by HALF zeros
  size_t n_samples;
  CwCompressor compressor;
  CwBandRows rows;
  size_t n_real;                  ///< frames of the recording: more are measured, so that the last ones are whole
  float past[PAST][CW_MAX_BANDS]; ///< log bands of the last frames, by frame % PAST
  float late[CW_MAX_BANDS];       ///< sums of the last SLOW_SIDE frames
  float early[CW_MAX_BANDS];      ///< sums of SLOW_SIDE frames before them
  CwChange chroma_change;
  CwChange bass_change;
  size_t n_changes;
  double slow_chroma[12];
  double slow_timbre[CW_TIMBRE_BANDS];
  float slow_bands[CW_MAX_BANDS]; ///< sums of the log bands since the last slow row
  float peaks[CW_MAX_BANDS];      ///< how far each band stood out in the last slow row
  float last_sample;
  double attack_sum;
  size_t attack_n;
} Meter;

enum { BUFFER = 1 << 15 };

static CwStatus meter_init(Meter *meter, CwFeatures *out)
{
  memset(meter, 0, sizeof *meter);
  memset(out, 0, sizeof *out);
  meter->out = out;
  meter->n_real = SIZE_MAX;
  meter->buffer = cw_new(BUFFER, sizeof *meter->buffer);
  if (!meter->buffer || cw_filter_bank_init(&meter->bank, CW_ANALYSIS_RATE_HZ) != 0) {
    return CW_ERR_NO_MEM;
  }
  meter->n_buffered = HALF; // zeros, so that frame 0 is centred on the first sample
  return cw_spectrum_new(&meter->spectrum);
}

static void meter_free(Meter *meter)
{
  cw_spectrum_free(meter->spectrum);
  cw_filter_bank_free(&meter->bank);
  free(meter->buffer);
}

static bool resize(float **array, size_t n)
{
  float *grown = cw_resize(*array, n, sizeof **array);
  if (!grown) {
    return false;
  }
  *array = grown;
  return true;
}

static CwStatus make_room(Meter *meter)
{
  CwFeatures *f = meter->out;
  if (f->n_frames < meter->capacity) {
    return CW_OK;
  }
  const size_t n = meter->capacity + meter->capacity / 2 + 6000;
  const size_t n_slow = n / CW_SLOW_STEP + 1;
  float **const arrays[] = {&f->onset,    &f->onset_slow,  &f->onset_low, &f->onset_high,
                            &f->harmonic, &f->bass_change, &f->level_db};
  for (size_t i = 0; i < sizeof arrays / sizeof arrays[0]; i++) {
    if (!resize(arrays[i], n)) {
      return CW_ERR_NO_MEM;
    }
  }
  if (!resize(&f->chroma, n_slow * 12) || !resize(&f->timbre, n_slow * CW_TIMBRE_BANDS) ||
      !resize(&f->steadiness, n_slow)) {
    return CW_ERR_NO_MEM;
  }
  unsigned char *heard = cw_resize(f->heard, n / 2 + 1, CW_HEARD_BANDS);
  if (!heard) {
    return CW_ERR_NO_MEM;
  }
  f->heard = heard;
  meter->capacity = n;
  return CW_OK;
}

/// Rise over FLUX_LAG frames against the loudest neighbouring band then, so that vibrato does not count.
static void measure_flux(Meter *meter, const float *bands)
{
  const CwFilterBank *bank = &meter->bank;
  CwFeatures *f = meter->out;
  const size_t i = f->n_frames;
  const float *past = meter->past[(i + PAST - FLUX_LAG) % PAST];
  float part[3] = {0, 0, 0};
  for (size_t b = 0; b < bank->n_bands; b++) {
    float before = past[b];
    before = b > 0 ? fmaxf(before, past[b - 1]) : before;
    before = b + 1 < bank->n_bands ? fmaxf(before, past[b + 1]) : before;
    part[(b >= bank->low_end) + (b >= bank->high_begin)] += fmaxf(bands[b] - before, 0.0F);
  }
  f->onset_low[i] = part[0] / (float)bank->low_end;
  f->onset_high[i] = part[2] / (float)(bank->n_bands - bank->high_begin);
  f->onset[i] = (part[0] + part[1] + part[2]) / (float)bank->n_bands;
}

/// Rise between two means over several frames: slow attacks, such as those of strings, rise above their own beating.
/// Written for the frame in the middle.
static void measure_slow_flux(Meter *meter, const float *bands)
{
  enum { REACH = 2 * SLOW_SIDE + SLOW_GAP };
  const CwFilterBank *bank = &meter->bank;
  CwFeatures *f = meter->out;
  const size_t i = f->n_frames;
  memcpy(meter->past[i % PAST], bands, bank->n_bands * sizeof *bands);
  for (size_t b = 0; b < bank->n_bands; b++) {
    meter->late[b] += bands[b] - meter->past[(i + PAST - SLOW_SIDE) % PAST][b];
    meter->early[b] +=
        meter->past[(i + PAST - SLOW_SIDE - SLOW_GAP) % PAST][b] - meter->past[(i + PAST - REACH) % PAST][b];
  }
  float sum = 0;
  for (size_t b = 0; b < bank->n_bands; b++) {
    float before = meter->early[b];
    before = b > 0 ? fmaxf(before, meter->early[b - 1]) : before;
    before = b + 1 < bank->n_bands ? fmaxf(before, meter->early[b + 1]) : before;
    sum += fmaxf(meter->late[b] - before, 0.0F);
  }
  f->onset_slow[i] = 0;
  if (i >= REACH / 2) {
    f->onset_slow[i - REACH / 2] = sum / (float)(SLOW_SIDE * bank->n_bands);
  }
}

static void push_changes(Meter *meter, const float *chroma, const float *bass)
{
  float value = 0;
  const bool there = cw_change_push(&meter->chroma_change, chroma, &value);
  if (there && meter->n_changes < meter->capacity) {
    meter->out->harmonic[meter->n_changes] = value;
  }
  if (cw_change_push(&meter->bass_change, bass, &value) && meter->n_changes < meter->capacity) {
    meter->out->bass_change[meter->n_changes++] = value;
  }
}

/// Share of the spectrum's peaks that stay where they were a slow row ago: high while notes are held, low in noise and
/// in speech, whose pitch glides.
static float measure_steadiness(Meter *meter)
{
  const CwFilterBank *bank = &meter->bank;
  const float *sum = meter->slow_bands;
  float same = 0;
  float all = 0;
  for (size_t b = bank->chroma_begin; b < bank->chroma_end; b++) {
    const float peak = fmaxf(0.0F, sum[b] - 0.5F * (sum[b - 2] + sum[b + 2])) / CW_SLOW_STEP;
    same += fminf(peak, meter->peaks[b]);
    all += fmaxf(peak, meter->peaks[b]);
    meter->peaks[b] = peak;
  }
  memset(meter->slow_bands, 0, sizeof meter->slow_bands);
  return all > 0.5F ? same / all : 0.0F;
}

static void end_slow_row(Meter *meter)
{
  CwFeatures *f = meter->out;
  f->steadiness[f->n_slow] = measure_steadiness(meter);
  double square = 0;
  for (size_t i = 0; i < 12; i++) {
    square += meter->slow_chroma[i] * meter->slow_chroma[i];
  }
  const double scale = square > 1e-6 ? 1.0 / sqrt(square) : 0.0;
  for (size_t i = 0; i < 12; i++) {
    f->chroma[f->n_slow * 12 + i] = (float)(meter->slow_chroma[i] * scale);
    meter->slow_chroma[i] = 0;
  }
  for (size_t i = 0; i < CW_TIMBRE_BANDS; i++) {
    f->timbre[f->n_slow * CW_TIMBRE_BANDS + i] = (float)(meter->slow_timbre[i] / CW_SLOW_STEP);
    meter->slow_timbre[i] = 0;
  }
  f->n_slow++;
}

static void measure_harmony(Meter *meter, const float *bands)
{
  const CwFilterBank *bank = &meter->bank;
  float chroma[CW_CHANGE_WIDTH] = {0};
  float bass[CW_CHANGE_WIDTH] = {0};
  for (size_t b = bank->chroma_begin; b < bank->chroma_end; b++) {
    chroma[bank->band[b].pitch_class] += bands[b];
  }
  for (size_t b = 0; b < bank->low_end && b < CW_CHANGE_WIDTH; b++) {
    bass[b] = bands[b];
  }
  push_changes(meter, chroma, bass);
  for (size_t i = 0; i < 12; i++) {
    meter->slow_chroma[i] += (double)chroma[i];
  }
  for (size_t b = 0; b < bank->n_bands; b++) {
    meter->slow_bands[b] += bands[b];
    const size_t column = b * CW_TIMBRE_BANDS / bank->n_bands;
    meter->slow_timbre[column] += (double)bands[b] * CW_TIMBRE_BANDS / (double)bank->n_bands;
  }
  if ((meter->out->n_frames + 1) % CW_SLOW_STEP == 0) {
    end_slow_row(meter);
  }
}

static void measure_level(Meter *meter, const float *samples)
{
  const size_t hop = CW_ANALYSIS_RATE_HZ / CW_FEATURE_RATE_HZ;
  double sum = 0;
  for (size_t i = 0; i < hop; i++) {
    const double x = (double)samples[HALF - hop / 2 + i];
    sum += x * x;
  }
  meter->out->level_db[meter->out->n_frames] = (float)fmax(-120.0, 10.0 * log10(sum / (double)hop + 1e-30));
}

static CwStatus measure_frame(Meter *meter, const float *samples)
{
  const CwStatus status = make_room(meter);
  if (status != CW_OK) {
    return status;
  }
  const float *long_bins = NULL;
  const float *short_bins = NULL;
  float bands[CW_MAX_BANDS] = {0};
  cw_spectrum_measure(meter->spectrum, samples, &long_bins, &short_bins);
  cw_filter_bank_apply(&meter->bank, long_bins, short_bins, bands);
  cw_compress(&meter->compressor, bands, meter->bank.n_bands);
  if (meter->out->n_frames == 0) { // that the recording begins is no attack
    for (size_t i = 0; i < PAST; i++) {
      memcpy(meter->past[i], bands, sizeof meter->past[i]);
    }
    for (size_t b = 0; b < meter->bank.n_bands; b++) {
      meter->late[b] = meter->early[b] = SLOW_SIDE * bands[b];
    }
  }
  measure_flux(meter, bands);
  measure_slow_flux(meter, bands);
  measure_harmony(meter, bands);
  measure_level(meter, samples);
  CwFeatures *f = meter->out;
  if (f->n_frames < meter->n_real &&
      cw_band_rows_push(&meter->rows, &meter->bank, bands, f->heard + f->n_heard * CW_HEARD_BANDS)) {
    f->n_heard++;
  }
  f->n_frames++;
  return CW_OK;
}

/// First sample of frame `i` in the padded recording: its centre in the recording itself.
static size_t frame_start(size_t i)
{
  return (i * CW_ANALYSIS_RATE_HZ + CW_FEATURE_RATE_HZ / 2) / CW_FEATURE_RATE_HZ;
}

/// Measure every frame for which the samples are there, then drop what is used up.
static CwStatus measure_ready(Meter *meter)
{
  for (;;) {
    const size_t start = frame_start(meter->out->n_frames);
    if (start + CW_LONG_WINDOW > meter->buffer_start + meter->n_buffered) {
      const size_t used = start - meter->buffer_start;
      const size_t drop = used < meter->n_buffered ? used : meter->n_buffered;
      memmove(meter->buffer, meter->buffer + drop, (meter->n_buffered - drop) * sizeof *meter->buffer);
      meter->buffer_start += drop;
      meter->n_buffered -= drop;
      return CW_OK;
    }
    const CwStatus status = measure_frame(meter, meter->buffer + (start - meter->buffer_start));
    if (status != CW_OK) {
      return status;
    }
  }
}

/// Envelope of the brightened signal, in steps much finer than a frame.
static CwStatus measure_attack(Meter *meter, const float *samples, size_t n)
{
  CwFeatures *f = meter->out;
  for (size_t i = 0; i < n; i++) {
    const double bright = (double)samples[i] - 0.95 * (double)meter->last_sample;
    meter->last_sample = samples[i];
    meter->attack_sum += bright * bright;
    meter->attack_n++;
    if ((meter->n_samples + i + 1) * CW_ATTACK_RATE_HZ / CW_ANALYSIS_RATE_HZ <= f->n_attack) {
      continue;
    }
    if (!cw_grow(&f->attack, &meter->attack_capacity, f->n_attack, sizeof *f->attack)) {
      return CW_ERR_NO_MEM;
    }
    f->attack[f->n_attack++] = (float)sqrt(meter->attack_sum / (double)meter->attack_n);
    meter->attack_sum = 0;
    meter->attack_n = 0;
  }
  return CW_OK;
}

/// Takes samples as a CwBlockSink; the user pointer is the Meter.
static CwStatus meter_push(void *user, const float *samples, size_t n)
{
  Meter *meter = user;
  CwStatus status = measure_attack(meter, samples, n);
  while (n > 0 && status == CW_OK) {
    const size_t room = BUFFER - meter->n_buffered;
    const size_t take = n < room ? n : room;
    memcpy(meter->buffer + meter->n_buffered, samples, take * sizeof *samples);
    meter->n_buffered += take;
    meter->n_samples += take;
    samples += take;
    n -= take;
    status = measure_ready(meter);
  }
  return status;
}

/// Measure the last frames: silence follows the recording.
static CwStatus meter_finish(Meter *meter)
{
  CwFeatures *f = meter->out;
  static const float zeros[CW_LONG_WINDOW];
  f->duration_s = (double)meter->n_samples / CW_ANALYSIS_RATE_HZ;
  const size_t n_frames = meter->n_samples * CW_FEATURE_RATE_HZ / CW_ANALYSIS_RATE_HZ;
  const size_t n_samples = meter->n_samples;
  meter->n_real = n_frames;
  while (f->n_frames < n_frames) {
    const size_t room = BUFFER - meter->n_buffered;
    const size_t take = room < CW_LONG_WINDOW ? room : CW_LONG_WINDOW;
    memcpy(meter->buffer + meter->n_buffered, zeros, take * sizeof *zeros);
    meter->n_buffered += take;
    const CwStatus status = measure_ready(meter);
    if (status != CW_OK) {
      return status;
    }
  }
  meter->n_samples = n_samples;
  f->n_frames = n_frames;
  if (f->heard && cw_band_rows_finish(&meter->rows, f->heard + f->n_heard * CW_HEARD_BANDS)) {
    f->n_heard++;
  }
  const float nothing[CW_CHANGE_WIDTH] = {0};
  while (meter->n_changes < f->n_frames) {
    push_changes(meter, nothing, nothing);
  }
  return CW_OK;
}

/// Give room back that is not needed; where that fails it is kept.
static void shrink(float **array, size_t n)
{
  float *smaller = n > 0 ? cw_resize(*array, n, sizeof **array) : NULL;
  *array = smaller ? smaller : *array;
}

/// A recording of a whole day leaves a third of its room unused.
static void give_back(CwFeatures *f)
{
  float **const arrays[] = {&f->onset,    &f->onset_slow,  &f->onset_low, &f->onset_high,
                            &f->harmonic, &f->bass_change, &f->level_db};
  for (size_t i = 0; i < sizeof arrays / sizeof arrays[0]; i++) {
    shrink(arrays[i], f->n_frames);
  }
  shrink(&f->chroma, f->n_slow * 12);
  shrink(&f->timbre, f->n_slow * CW_TIMBRE_BANDS);
  shrink(&f->steadiness, f->n_slow);
  shrink(&f->attack, f->n_attack);
  unsigned char *heard = f->n_heard > 0 ? cw_resize(f->heard, f->n_heard, CW_HEARD_BANDS) : NULL;
  f->heard = heard ? heard : f->heard;
}

static CwStatus finish(Meter *meter, CwStatus status)
{
  if (status == CW_OK) {
    status = meter_finish(meter);
  }
  if (status == CW_OK) {
    give_back(meter->out);
  }
  CwFeatures *features = meter->out;
  meter_free(meter);
  if (status != CW_OK) {
    cw_features_free(features);
  }
  return status;
}

CwStatus cw_features_read(const char *path, const CwReport *report, CwFeatures *features)
{
  Meter meter;
  CwStatus status = meter_init(&meter, features);
  if (status == CW_OK) {
    status = cw_audio_stream(path, CW_ANALYSIS_RATE_HZ, report, meter_push, &meter, NULL);
  }
  return finish(&meter, status);
}

struct CwFeatureStream {
  Meter meter;
};

CwStatus cw_feature_stream_new(CwFeatures *features, CwFeatureStream **stream)
{
  *stream = cw_new(1, sizeof **stream);
  CwStatus status = *stream ? meter_init(&(*stream)->meter, features) : CW_ERR_NO_MEM;
  if (status != CW_OK && *stream) {
    status = cw_feature_stream_finish(*stream, status);
    *stream = NULL;
  }
  return status;
}

CwStatus cw_feature_stream_push(void *stream, const float *samples, size_t n)
{
  CwFeatureStream *s = stream;
  return meter_push(&s->meter, samples, n);
}

CwStatus cw_feature_stream_finish(CwFeatureStream *stream, CwStatus status)
{
  const CwStatus end = finish(&stream->meter, status);
  free(stream);
  return end;
}

CwStatus cw_features_measure(const float *samples, size_t n, CwFeatures *features)
{
  Meter meter;
  CwStatus status = meter_init(&meter, features);
  if (status == CW_OK) {
    status = meter_push(&meter, samples, n);
  }
  return finish(&meter, status);
}

void cw_features_free(CwFeatures *features)
{
  if (!features) {
    return;
  }
  free(features->onset);
  free(features->onset_slow);
  free(features->onset_low);
  free(features->onset_high);
  free(features->harmonic);
  free(features->bass_change);
  free(features->level_db);
  free(features->attack);
  free(features->chroma);
  free(features->timbre);
  free(features->steadiness);
  free(features->heard);
  memset(features, 0, sizeof *features);
}
