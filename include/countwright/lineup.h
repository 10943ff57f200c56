// SPDX-License-Identifier: GPL-3.0-or-later
/// @file lineup.h
/// Line notes up with music: the notes' counts, metre, phrase lengths and pins are evidence for the decoding; the result
/// is the count line of the notes in this recording.
#ifndef COUNTWRIGHT_LINEUP_H
#define COUNTWRIGHT_LINEUP_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/ear.h"
#include "countwright/evidence.h"
#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"
#include "countwright/taps.h"

CW_BEGIN

/// What overrides the notes' head. Zero everything for the defaults.
typedef struct {
  double beats_per_count; ///< kept to 0.25 to 16; 0: from the notes, else as the music is counted
  CwEarChoice ear;        ///< what beats are heard with
  bool without_pins;      ///< leave the notes' pins out: they are times in another recording
  CwEvidence *evidence;   ///< told how the notes changed the result; NULL when not wanted, which is quicker
  const CwTaps *taps;     ///< someone tapped along; NULL: nobody did. Under 4 taps tell nothing
  CwTapsOn taps_on;       ///< what was tapped
  CwTapsFound *found;     ///< told what was found out about the taps; NULL when not wanted
} CwLineupOptions;

/// Line a notebook up with a recording. Phrase k of the result is phrase k of the notes; pinned counts fall exactly on
/// their times. When the music ends before the notes do, `line` holds the phrases that fit (there may be none).
/// @param options NULL for the defaults.
/// @param[out] line Release with cw_count_line_free(); empty on error.
/// @param[out] messages What does not add up, in words with times; appended to.
/// @return CW_OK, CW_ERR_NO_PULSE (and no pins to go by), CW_ERR_TOO_SHORT, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_lineup(const CwFeatures *features, const CwNotebook *notebook,
                                       const CwLineupOptions *options, const CwReport *report, CwCountLine *line,
                                       CwMessages *messages);

CW_END

#endif
