// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/features.h"

#include <stdlib.h>

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

void cw_align_features_free(CwAlignFeatures *features)
{
  if (!features) {
    return;
  }
  free(features->chroma);
  free(features->attacks.attack);
  free(features);
}
