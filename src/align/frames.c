// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/frames.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const double pi = 3.14159265358979323846;

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

static void highest_in_row(const float *row, size_t n, size_t step, float *out, size_t n_out)
{
  for (size_t f = 0; f < n_out; f++) {
    const size_t end = (f + 1) * step < n ? (f + 1) * step : n;
    float highest = 0;
    for (size_t i = f * step; i < end; i++) {
      highest = row[i] > highest ? row[i] : highest;
    }
    out[f] = highest;
  }
}

/// Less the mean of the twelve and to length 1, so that a likeness is a correlation: what all twelve share is noise.
static void normalise(float *chroma, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    float square = 0;
    float mean = 0;
    for (size_t k = 0; k < 12; k++) {
      mean += chroma[k * n + i];
    }
    mean /= 12.0F;
    for (size_t k = 0; k < 12; k++) {
      chroma[k * n + i] -= mean;
    }
    for (size_t k = 0; k < 12; k++) {
      square += chroma[k * n + i] * chroma[k * n + i];
    }
    // a frame in which all twelve are alike says nothing
    const float scale = square > 1e-6F ? 1.0F / sqrtf(square) : 0.0F;
    for (size_t k = 0; k < 12; k++) {
      chroma[k * n + i] *= scale;
    }
  }
}

CwStatus cw_frames_make(const CwAlignFeatures *features, size_t step, size_t width, int transpose, CwFrames *frames)
{
  const size_t n = (features->n + step - 1) / step;
  const size_t reach = width * step;
  *frames = (CwFrames){.n = n, .rate_hz = (double)CW_ALIGN_RATE_HZ / (double)step};
  frames->chroma = cw_new(12 * n, sizeof *frames->chroma);
  frames->onset = cw_new(12 * n, sizeof *frames->onset);
  float *weight = cw_new(2 * reach + 1, sizeof *weight);
  if (!frames->chroma || !frames->onset || !weight) {
    free(weight);
    cw_frames_free(frames);
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i <= 2 * reach; i++) {
    weight[i] = (float)(0.5 - 0.5 * cos(2 * pi * (double)(i + 1) / (double)(2 * reach + 2)));
  }
  for (size_t k = 0; k < 12; k++) {
    const size_t from = (k + 12 + (size_t)(transpose + 12)) % 12;
    smooth_row(features->chroma + from * features->n, features->n, step, weight, reach, frames->chroma + k * n, n);
    highest_in_row(features->onset + from * features->n, features->n, step, frames->onset + k * n, n);
  }
  free(weight);
  normalise(frames->chroma, n);
  return CW_OK;
}

void cw_frames_free(CwFrames *frames)
{
  free(frames->chroma);
  free(frames->onset);
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
  for (size_t k = 0; k < 12; k++) {
    const float value = one->onset[k * one->n + i];
    const float *row = many->onset + k * many->n + j;
    for (size_t f = 0; f < n; f++) {
      const float difference = row[f] - value;
      distance[f] += difference * difference;
    }
  }
  for (size_t f = 0; f < n; f++) {
    distance[f] = sqrtf(distance[f]);
  }
}
