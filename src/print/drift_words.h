// SPDX-License-Identifier: GPL-3.0-or-later
/// Drift in words.
#ifndef CW_PRINT_DRIFT_WORDS_H
#define CW_PRINT_DRIFT_WORDS_H

#include "print/words.h"

/// "same" below the just noticeable difference, "a little faster" or "a little slower" up to CW_A_LITTLE_PERCENT, else
/// "faster" or "slower"; "-" when unknown.
const char *cw_difference_words(double percent);

/// "+3.7 %"; "-" when unknown.
void cw_percent_label(double percent, char out[CW_WORD_ROOM]);

/// "0.4 s ahead", "9.1 s behind", "level" when it rounds to nothing, "-" when unknown.
void cw_ahead_label(double ahead_s, char out[CW_WORD_ROOM]);

#endif
