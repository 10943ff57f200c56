// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/look.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "pulse/posterior.h"

#define CERTAINTY_SCALE                                                                                                \
  1.7F                // the posterior's evidence against the decoding's: chosen so that sureness grows with truth
#define NEAR_FRAMES 7 // 70 ms

/// How likely a beat is at each frame, by the model without bars.
static CwStatus find_probability(const CwActivation *activation, const CwModel *model, float **probability)
{
  CwActivation scaled = *activation;
  scaled.beat = cw_new(activation->n, sizeof *scaled.beat);
  if (!scaled.beat) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < activation->n; i++) {
    scaled.beat[i] = CERTAINTY_SCALE * activation->beat[i];
  }
  const CwStatus status = cw_posterior(&scaled, model, probability);
  free(scaled.beat);
  return status;
}

CwStatus cw_look(const CwFeatures *features, const CwModel *model, bool tonal_only, CwLook *look)
{
  memset(look, 0, sizeof *look);
  look->offbeat_weight = (float)model->offbeat_weight;
  CwStatus status = cw_activation_make(features, model->left_out, &look->activation);
  if (status != CW_OK) {
    return status;
  }
  if (model->heard) {
    cw_activation_hear(model->heard, &look->activation);
  }
  if (tonal_only && !(model->left_out & CW_CUE_STEADY)) {
    cw_activation_keep_tonal(features, &look->activation);
  }
  status = find_probability(&look->activation, model, &look->probability);
  if (status != CW_OK) {
    cw_look_free(look);
    return status;
  }
  if (!model->heard) {
    cw_activation_weigh_bars(&look->activation, look->probability);
  }
  return CW_OK;
}

float cw_look_near(const CwLook *look, double time_s)
{
  const size_t middle = (size_t)lround(fmax(time_s, 0.0) * CW_FEATURE_RATE_HZ);
  float sum = 0;
  for (size_t i = middle > NEAR_FRAMES ? middle - NEAR_FRAMES : 0; i <= middle + NEAR_FRAMES && i < look->activation.n;
       i++) {
    sum += look->probability[i];
  }
  return fminf(sum, 1.0F);
}

void cw_look_free(CwLook *look)
{
  cw_activation_free(&look->activation);
  free(look->probability);
  look->probability = NULL;
}
