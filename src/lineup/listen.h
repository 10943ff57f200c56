// SPDX-License-Identifier: GPL-3.0-or-later
/// Listening under the notes: what they say of the beats is told to the learned ear, which then hears the beats meant
/// rather than those twice or half as quick.
#ifndef CW_LINEUP_LISTEN_H
#define CW_LINEUP_LISTEN_H

#include "countwright/notebook.h"
#include "countwright/taps.h"
#include "ear/ear.h"
#include "lineup/plan.h"
#include "lineup/sound.h"
#include "pulse/look.h"

/// Look at a recording.
/// @param ear NULL: the plain ear. @param hint By row of the ear; NULL where nothing is known.
/// @param likely_bpm 0 where nothing is known. @param tonal Whether to speak against beats where no notes are held.
/// @param[out] model What it was looked at with, for decoding. @param[out] look Empty on error.
/// @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_listen(const CwFeatures *features, CwEar *ear, const CwEarHint *hint, double likely_bpm,
                                bool tonal, const CwReport *report, CwModel *model, CwLook *look);

/// Look again, at the pace that the notes give: seconds of sound over counts, from pin to pin.
/// @param plan With its pins; its `ln_stretch` are set. @param sound As first heard.
/// @param[in,out] look Replaced, unless the ear takes no hints or is NULL; empty on error.
CW_NODISCARD CwStatus cw_listen_by_plan(const CwFeatures *features, CwEar *ear, const CwNotebook *notebook,
                                        CwPlan *plan, const CwSound *sound, bool tonal, const CwReport *report,
                                        CwLook *look);

/// Look again, at the pace of taps.
/// @param tap_s Ascending, `n_taps` of them, more than one. @param on What was tapped; CW_TAPS_ON_ANY to find out.
/// @param[in,out] look Replaced, unless the ear takes no hints or is NULL; empty on error.
CW_NODISCARD CwStatus cw_listen_by_taps(const CwFeatures *features, CwEar *ear, const CwNotebook *notebook,
                                        const CwPlan *plan, const double *tap_s, size_t n_taps, CwTapsOn on, bool tonal,
                                        const CwReport *report, CwLook *look);

#endif
