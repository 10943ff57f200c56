// SPDX-License-Identifier: GPL-3.0-or-later
/// Parts of the sentences about drift.
#ifndef CW_DRIFT_WORDS_H
#define CW_DRIFT_WORDS_H

#include "countwright/drift.h"

enum { CW_WORDS = 96 };

/// "phrase 7" or "phrases 12-15": the numbers of rows `first` to `last`.
void cw_drift_phrases(const CwDrift *drift, size_t first, size_t last, char out[CW_WORDS]);

/// "1:20.3 to 1:45.0".
void cw_drift_span(double from_s, double to_s, char out[CW_WORDS]);

/// Say which parts of a are missing or repeated in b, and what b has between. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_drift_say_structure(const CwDrift *drift, const CwTimeMap *map, CwMessages *messages);

#endif
