// SPDX-License-Identifier: GPL-3.0-or-later
/// Drift in words.
#ifndef CW_PRINT_DRIFT_WORDS_H
#define CW_PRINT_DRIFT_WORDS_H

#include "print/words.h"

/// "same" below the just noticeable difference, "a little faster" or "a little slower" up to CW_A_LITTLE_PERCENT, else
/// "faster" or "slower"; "-" when unknown.
const char *cw_difference_words(CwLanguage language, double percent);

/// The sign of the same, told apart without colour: full for faster and slower, open for a little; "=", "" when unknown.
const char *cw_difference_sign(double percent);

/// "+3.7 %"; "-" when unknown.
void cw_percent_label(double percent, char out[CW_WORD_ROOM]);

/// "0.4 s ahead", "9.1 s behind", "level" when it rounds to nothing, "-" when unknown.
void cw_ahead_label(CwLanguage language, double ahead_s, char out[CW_WORD_ROOM]);

/// "▲ 7 %", how much faster (▼: slower) a phrase is than the one before; empty where nobody hears it.
void cw_change_label(double percent, char out[CW_WORD_ROOM]);

/// A phrase in the recording that the sheet is held against: "B 1:04.2 · 61/min · ▲ faster (+6.2 %) · 1.3 s ahead". Adds nothing for a phrase without times.
void cw_put_other(CwLanguage language, const CwSheetRow *row, CwBuffer *out);

#endif
