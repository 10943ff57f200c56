// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/features.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// Frames over which an attack fades (0.2 s), so that attacks a little apart are still near each other.
enum { FADE = 10 };
/// Frames to either side whose strongest attack counts as 1.
enum { NEAR = 50 };

static void length_of_frames(const float (*row)[12], size_t n, float *length)
{
  for (size_t i = 0; i < n; i++) {
    float square = 0;
    for (size_t k = 0; k < 12; k++) {
      square += row[i][k] * row[i][k];
    }
    length[i] = sqrtf(square);
  }
}

static float highest_near(const float *value, size_t n, size_t i)
{
  const size_t from = i < NEAR ? 0 : i - NEAR;
  const size_t to = i + NEAR < n ? i + NEAR : n - 1;
  float highest = 0;
  for (size_t k = from; k <= to; k++) {
    highest = fmaxf(highest, value[k]);
  }
  return highest;
}

static CwStatus fill_onset(CwAlignFeatures *features, const float (*row)[12])
{
  float *length = cw_new(features->n, sizeof *length);
  if (!length) {
    return CW_ERR_NO_MEM;
  }
  length_of_frames(row, features->n, length);
  for (size_t i = 0; i < features->n; i++) {
    if (length[i] == 0) {
      continue;
    }
    const float highest = highest_near(length, features->n, i);
    for (size_t k = 0; k < 12; k++) {
      float *out = features->onset + k * features->n + i;
      const float value = row[i][k] / highest;
      for (size_t later = 0; later < FADE && i + later < features->n; later++) {
        out[later] = fmaxf(out[later], value * sqrtf(1.0F - (float)later / FADE));
      }
    }
  }
  free(length);
  return CW_OK;
}

CwStatus cw_align_features_make(size_t n, const float (*chroma)[12], const float (*onset)[12], double duration_s,
                                double tuning_cents, CwAlignFeatures **features)
{
  CwAlignFeatures *made = cw_new(1, sizeof *made);
  *features = NULL;
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  *made = (CwAlignFeatures){.n = n, .duration_s = duration_s, .tuning_cents = tuning_cents};
  made->chroma = cw_new(12 * n, sizeof *made->chroma);
  made->onset = cw_new(12 * n, sizeof *made->onset);
  if (!made->chroma || !made->onset || fill_onset(made, onset)) {
    cw_align_features_free(made);
    return CW_ERR_NO_MEM;
  }
  for (size_t k = 0; k < 12; k++) {
    for (size_t i = 0; i < n; i++) {
      made->chroma[k * n + i] = chroma[i][k];
    }
  }
  *features = made;
  return CW_OK;
}

void cw_align_features_free(CwAlignFeatures *features)
{
  if (!features) {
    return;
  }
  free(features->chroma);
  free(features->onset);
  free(features);
}
