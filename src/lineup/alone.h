// SPDX-License-Identifier: GPL-3.0-or-later
/// The music counted alone, without the notes: what the notes are held against, and what the counted level is chosen by.
#ifndef CW_LINEUP_ALONE_H
#define CW_LINEUP_ALONE_H

#include <stdbool.h>

#include "countwright/beats.h"
#include "countwright/count_line.h"
#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"
#include "pulse/look.h"

/// Release with cw_alone_free().
typedef struct {
  CwBeats beats;    ///< none where there is no pulse
  CwCountLine line; ///< empty where there are no phrases
} CwAlone;

/// Count the music alone.
/// @param look By this model. @param tonal Whether it speaks against beats where no notes are held.
/// @param[out] alone Empty on error, and where there is no pulse.
/// @return CW_OK, CW_ERR_BAD_ARG, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_alone_count(const CwFeatures *features, const CwModel *model, const CwLook *look, bool tonal,
                                     const CwReport *report, CwAlone *alone);

/// Beats per count that fit the notes best: near what the music alone would be counted in, near the notes' tempo, and so
/// that the notes' counts fill the music.
/// @param sound_s Seconds of music for the notes to fill.
/// @return 0 where there is no pulse to count.
double cw_fitting_beats(const CwAlone *alone, const CwNotebook *notebook, double sound_s);

/// Release and set to empty.
void cw_alone_free(CwAlone *alone);

#endif
