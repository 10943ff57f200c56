// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/features.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

CwStatus cw_align_features_make(size_t n, const float (*chroma)[12], CwAttacks *attacks, double duration_s,
                                double tuning_cents, CwAlignFeatures **features)
{
  CwAlignFeatures *made = cw_new(1, sizeof *made);
  *features = NULL;
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  *made = (CwAlignFeatures){.n = n, .duration_s = duration_s, .tuning_cents = tuning_cents};
  made->chroma = cw_new(12 * n, sizeof *made->chroma);
  if (!made->chroma) {
    cw_align_features_free(made);
    return CW_ERR_NO_MEM;
  }
  for (size_t k = 0; k < 12; k++) {
    for (size_t i = 0; i < n; i++) {
      made->chroma[k * n + i] = chroma[i][k];
    }
  }
  made->attacks = *attacks;
  *attacks = (CwAttacks){0};
  *features = made;
  return CW_OK;
}

/// Copy the attacks from `first` to `end`, so many seconds earlier.
static CwStatus copy_attacks(const CwAttacks *attacks, size_t first, size_t end, double earlier_s, CwAttacks *copy)
{
  const size_t n = end - first;
  *copy = (CwAttacks){.attack = cw_new(n + 1, sizeof *copy->attack), .n = n, .room = n + 1};
  if (!copy->attack) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n; i++) {
    copy->attack[i] = attacks->attack[first + i];
    copy->attack[i].time_s -= earlier_s;
  }
  return CW_OK;
}

CwStatus cw_align_features_part(const CwAlignFeatures *features, size_t first, size_t end, CwAlignFeatures **part)
{
  const double from_s = (double)first / CW_ALIGN_RATE_HZ;
  const double to_s = end < features->n ? (double)end / CW_ALIGN_RATE_HZ : features->duration_s;
  const size_t n = end - first;
  CwAlignFeatures *made = cw_new(1, sizeof *made);
  *part = NULL;
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  *made = (CwAlignFeatures){.n = n, .duration_s = to_s - from_s, .tuning_cents = features->tuning_cents};
  made->chroma = cw_new(12 * n, sizeof *made->chroma);
  if (!made->chroma || copy_attacks(&features->attacks, cw_attacks_from(&features->attacks, from_s),
                                    cw_attacks_from(&features->attacks, to_s), from_s, &made->attacks) != CW_OK) {
    cw_align_features_free(made);
    return CW_ERR_NO_MEM;
  }
  for (size_t k = 0; k < 12; k++) {
    memcpy(made->chroma + k * n, features->chroma + k * features->n + first, n * sizeof *made->chroma);
  }
  *part = made;
  return CW_OK;
}

double cw_align_features_duration(const CwAlignFeatures *features)
{
  return features->duration_s;
}

void cw_align_features_free(CwAlignFeatures *features)
{
  if (!features) {
    return;
  }
  free(features->chroma);
  free(features->attacks.attack);
  free(features);
}
