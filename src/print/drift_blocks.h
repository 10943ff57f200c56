// SPDX-License-Identifier: GPL-3.0-or-later
/// The tables of drift where more than two recordings are compared.
#ifndef CW_PRINT_DRIFT_BLOCKS_H
#define CW_PRINT_DRIFT_BLOCKS_H

#include "countwright/drift.h"
#include "print/terminal.h"
#include "print/words.h"

/// What a table or chart is called.
const char *cw_drift_title(const CwDriftTable *table);

/// "B" for the first of the others, "C" ... "Z", then "AA". @return `out`.
const char *cw_drift_letter(size_t other, char out[CW_WORD_ROOM]);

/// Counts a minute with one digit, "-" when unknown.
void cw_drift_tempo_label(double counts_per_min, char out[CW_WORD_ROOM]);

/// The heading that begins with row `i`, when one does.
void cw_drift_put_heading(CwTerminal *terminal, const CwDriftTable *table, size_t i);

/// All phrases with as many recordings side by side as have room, then again with the next recordings.
void cw_drift_put_blocks(CwTerminal *terminal, const CwDriftTable *table);

/// How fast each phrase is over all recordings.
void cw_drift_put_season(CwTerminal *terminal, const CwDriftTable *table);

#endif
