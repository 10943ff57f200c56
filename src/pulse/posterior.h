// SPDX-License-Identifier: GPL-3.0-or-later
/// How sure the model is of a beat at each frame: the forward-backward sums of the decoding's model without bars.
#ifndef CW_PULSE_POSTERIOR_H
#define CW_PULSE_POSTERIOR_H

#include "countwright/status.h"
#include "pulse/activation.h"
#include "pulse/decode.h"

/// @param[out] probability activation->n values: probability of a beat exactly at each frame. Release with free().
/// @return CW_OK, CW_ERR_BAD_ARG or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_posterior(const CwActivation *activation, const CwModel *model, float **probability);

#endif
