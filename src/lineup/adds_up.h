// SPDX-License-Identifier: GPL-3.0-or-later
/// Where notes and music do not add up, in words.
#ifndef CW_LINEUP_ADDS_UP_H
#define CW_LINEUP_ADDS_UP_H

#include "countwright/count_line.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

/// Say where the notes have more counts than the music or fewer, as far as it can be told.
/// @param music_begin_s Where the first sound is. @param music_end_s Where the last sound ends.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_adds_up(const CwNotebook *notebook, const CwCountLine *line, double music_begin_s,
                                 double music_end_s, CwMessages *messages);

#endif
