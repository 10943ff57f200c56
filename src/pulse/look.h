// SPDX-License-Identifier: GPL-3.0-or-later
/// The evidence for beats and bars, and what the model without bars makes of it: where every decoding begins.
#ifndef CW_PULSE_LOOK_H
#define CW_PULSE_LOOK_H

#include <stdbool.h>

#include "countwright/status.h"
#include "pulse/activation.h"
#include "pulse/decode.h"

/// How a recording looks. Release with cw_look_free().
typedef struct {
  CwActivation activation; ///< its accents have mean 0 and spread 1 over the beats, or are as the learned ear has them
  float *probability;      ///< of a beat at each frame
  float offbeat_weight;    ///< what an onset within a beat counts for, as in CwModel
} CwLook;

/// @param tonal_only Whether to speak against beats where no notes are held.
/// @param[out] look Empty on error.
/// @return CW_OK, CW_ERR_BAD_ARG (no tempo in the model) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_look(const CwFeatures *features, const CwModel *model, bool tonal_only, CwLook *look);

/// Probability of a beat within 70 ms of a time.
float cw_look_near(const CwLook *look, double time_s);

/// Release and set to empty.
void cw_look_free(CwLook *look);

#endif
