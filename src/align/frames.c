// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/frames.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const double pi = 3.14159265358979323846;

/// A chroma this much shorter than 1 after its mean is taken away says nothing (squared).
static const float nothing_said = 1e-6F;

static CwStatus begin(size_t n, CwFrames *frames)
{
  *frames = (CwFrames){.n = n};
  frames->chroma = cw_new(12 * n, sizeof *frames->chroma);
  frames->attack = cw_new(CW_N_SEMITONES * n, sizeof *frames->attack);
  if (!frames->chroma || !frames->attack) {
    cw_frames_free(frames);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

/// Take away the mean of the twelve and make the length 1, so that a likeness is a correlation: what all twelve share
/// is noise.
static void normalise(float *chroma, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    float mean = 0;
    for (size_t k = 0; k < 12; k++) {
      mean += chroma[k * n + i] / 12.0F;
    }
    float square = 0;
    for (size_t k = 0; k < 12; k++) {
      const float value = chroma[k * n + i] - mean;
      chroma[k * n + i] = value;
      square += value * value;
    }
    const float scale = square > nothing_said ? 1.0F / sqrtf(square) : 0.0F;
    for (size_t k = 0; k < 12; k++) {
      chroma[k * n + i] *= scale;
    }
  }
}

/// The row of the features' chroma that row `k` is taken from.
static size_t row_from(size_t k, int transpose)
{
  return (k + 24 + (size_t)(transpose + 12)) % 12;
}

/// Draw one attack from place `at` (in frames) on.
static void draw_attack(const CwAttack *attack, int transpose, double at, double fade_frames, CwFrames *frames)
{
  const int semitone = attack->semitone - transpose;
  if (semitone < 0 || semitone >= CW_N_SEMITONES || !(at > -fade_frames)) {
    return;
  }
  float *row = frames->attack + (size_t)semitone * frames->n;
  for (size_t i = (size_t)fmax(0.0, ceil(at)); i < frames->n; i++) {
    const double left = 1.0 - ((double)i - at) / fade_frames;
    if (left <= 0) {
      break;
    }
    row[i] = fmaxf(row[i], attack->strength * (float)sqrt(left));
  }
}

/// Weighted mean of one row about each kept frame.
static void smooth_row(const float *row, size_t n, size_t step, const float *weight, size_t reach, float *out,
                       size_t n_out)
{
  for (size_t f = 0; f < n_out; f++) {
    const size_t centre = f * step;
    const size_t from = centre < reach ? 0 : centre - reach;
    const size_t to = centre + reach < n ? centre + reach : n - 1;
    float sum = 0;
    for (size_t i = from; i <= to; i++) {
      sum += weight[i + reach - centre] * row[i];
    }
    out[f] = sum;
  }
}

static CwStatus smooth(const CwAlignFeatures *features, size_t step, size_t width, int transpose, CwFrames *frames)
{
  const size_t reach = width * step;
  float *weight = cw_new(2 * reach + 1, sizeof *weight);
  if (!weight) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i <= 2 * reach; i++) {
    weight[i] = (float)(0.5 - 0.5 * cos(2 * pi * (double)(i + 1) / (double)(2 * reach + 2)));
  }
  for (size_t k = 0; k < 12; k++) {
    const float *row = features->chroma + row_from(k, transpose) * features->n;
    smooth_row(row, features->n, step, weight, reach, frames->chroma + k * frames->n, frames->n);
  }
  free(weight);
  return CW_OK;
}

size_t cw_search_step(const CwAlignFeatures *a, const CwAlignFeatures *b)
{
  const double most_cells = 6e8;
  size_t step = 10;
  while ((double)a->n * (double)b->n / (double)(step * step) > most_cells) {
    step *= 2;
  }
  return step;
}

CwStatus cw_frames_thin(const CwAlignFeatures *features, size_t step, size_t width, int transpose, double fade_s,
                        CwFrames *frames)
{
  if (begin((features->n + step - 1) / step, frames)) {
    return CW_ERR_NO_MEM;
  }
  if (smooth(features, step, width, transpose, frames)) {
    cw_frames_free(frames);
    return CW_ERR_NO_MEM;
  }
  normalise(frames->chroma, frames->n);
  const double rate_hz = (double)CW_ALIGN_RATE_HZ / (double)step;
  for (size_t i = 0; i < features->attacks.n; i++) {
    const CwAttack *attack = &features->attacks.attack[i];
    draw_attack(attack, transpose, attack->time_s * rate_hz, fade_s * rate_hz, frames);
  }
  return CW_OK;
}

/// The chroma at one time, by straight interpolation.
static void read_chroma(const CwAlignFeatures *features, double time_s, int transpose, size_t i, CwFrames *frames)
{
  const double place = time_s * CW_ALIGN_RATE_HZ;
  if (!(place >= 0 && place < (double)(features->n - 1))) {
    return;
  }
  const size_t left = (size_t)place;
  const float part = (float)(place - (double)left);
  for (size_t k = 0; k < 12; k++) {
    const float *row = features->chroma + row_from(k, transpose) * features->n + left;
    frames->chroma[k * frames->n + i] = row[0] + part * (row[1] - row[0]);
  }
}

/// The place of a time among ascending times, in frames; going on evenly beyond them.
static double place_of(const double *time_s, size_t n, double wanted_s)
{
  size_t low = 0;
  size_t high = n - 1;
  while (high - low > 1) {
    const size_t middle = low + (high - low) / 2;
    if (time_s[middle] <= wanted_s) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return (double)low + (wanted_s - time_s[low]) / (time_s[high] - time_s[low]);
}

CwStatus cw_frames_at(const CwAlignFeatures *features, const double *time_s, size_t n, int transpose,
                      double fade_frames, CwFrames *frames)
{
  if (begin(n, frames)) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n; i++) {
    read_chroma(features, time_s[i], transpose, i, frames);
  }
  normalise(frames->chroma, n);
  const size_t from = cw_attacks_from(&features->attacks, time_s[0] - 1.0);
  for (size_t i = from; i < features->attacks.n; i++) {
    const CwAttack *attack = &features->attacks.attack[i];
    if (attack->time_s > time_s[n - 1] + 1.0) {
      break;
    }
    draw_attack(attack, transpose, place_of(time_s, n, attack->time_s), fade_frames, frames);
  }
  return CW_OK;
}

void cw_frames_free(CwFrames *frames)
{
  free(frames->chroma);
  free(frames->attack);
  memset(frames, 0, sizeof *frames);
}

void cw_frames_likeness(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n, float *likeness)
{
  memset(likeness, 0, n * sizeof *likeness);
  for (size_t k = 0; k < 12; k++) {
    const float value = one->chroma[k * one->n + i];
    const float *row = many->chroma + k * many->n + j;
    for (size_t f = 0; f < n; f++) {
      likeness[f] += value * row[f];
    }
  }
}

void cw_frames_attack_distance(const CwFrames *one, size_t i, const CwFrames *many, size_t j, size_t n, float *distance)
{
  memset(distance, 0, n * sizeof *distance);
  for (size_t k = 0; k < CW_N_SEMITONES; k++) {
    const float value = one->attack[k * one->n + i];
    const float *row = many->attack + k * many->n + j;
    for (size_t f = 0; f < n; f++) {
      const float difference = row[f] - value;
      distance[f] += difference * difference;
    }
  }
  for (size_t f = 0; f < n; f++) {
    distance[f] = sqrtf(distance[f]);
  }
}

float cw_frames_attacks_shared(const CwFrames *one, size_t i, const CwFrames *other, size_t j)
{
  float sum = 0;
  for (size_t k = 0; k < CW_N_SEMITONES; k++) {
    sum += one->attack[k * one->n + i] * other->attack[k * other->n + j];
  }
  return sum;
}
