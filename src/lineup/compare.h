// SPDX-License-Identifier: GPL-3.0-or-later
/// What the notes changed, against the music alone.
#ifndef CW_LINEUP_COMPARE_H
#define CW_LINEUP_COMPARE_H

#include "countwright/evidence.h"
#include "countwright/notebook.h"
#include "lineup/alone.h"

/// Fill in the levels, and which ones were moved; the rest of `evidence` is left as it is.
/// @param line Lined up, with at least one phrase.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_compare(const CwNotebook *notebook, const CwAlone *alone, const CwCountLine *line,
                                 CwEvidence *evidence);

#endif
