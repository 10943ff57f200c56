// SPDX-License-Identifier: GPL-3.0-or-later
/// Parts of the sentences about drift.
#ifndef CW_DRIFT_WORDS_H
#define CW_DRIFT_WORDS_H

#include <stdbool.h>

#include "countwright/drift.h"

enum { CW_WORDS = 200 };

/// The name of the first recording, and of another one.
const char *cw_drift_first_name(const CwDriftTable *table);
const char *cw_drift_other_name(const CwDriftOther *other);

/// "phrase 7" or "phrases 12-15": the numbers of rows `first` to `last`.
void cw_drift_phrases(const CwDrift *drift, size_t first, size_t last, char out[CW_WORDS]);

/// "1:20.3 to 1:45.0".
void cw_drift_span(double from_s, double to_s, char out[CW_WORDS]);

/// Rows with their times, and their place in their section where they share one: "the last two eights of 'B' (phrases
/// 7-8, 0:34.0 to 0:42.0)", "phrase 5 (0:26.0 to 0:30.0)". @return Whether that is singular.
bool cw_drift_place(const CwDriftTable *table, size_t first, size_t last, char out[CW_WORDS]);

/// Say which parts of the music are missing or repeated, where it stops, and what is put between.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_drift_say_structure(const CwDriftTable *table, const CwDriftOther *other,
                                             CwMessages *messages);

#endif
