// SPDX-License-Identifier: GPL-3.0-or-later
/// Beats of what has been looked at already.
#ifndef CW_PULSE_SEEN_H
#define CW_PULSE_SEEN_H

#include "countwright/beats.h"
#include "pulse/look.h"

/// As cw_beats_find(), for a recording whose look is at hand. There may be no beats.
/// @param look Of the model of these options, notes held or not.
/// @return CW_OK, CW_ERR_BAD_ARG, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_beats_seen(const CwFeatures *features, const CwBeatOptions *options, const CwModel *model,
                                    const CwLook *look, const CwReport *report, CwBeats *beats);

#endif
