// SPDX-License-Identifier: GPL-3.0-or-later
/// What a run of a dance has of it.
#ifndef CW_PRINT_DAY_PHRASES_H
#define CW_PRINT_DAY_PHRASES_H

#include "countwright/print.h"

/// Phrases, numbered from 1; both 0 when it has no one of any.
typedef struct {
  size_t first, last;
} CwDayPhrases;

/// The phrases whose ones a run has.
CwDayPhrases cw_day_phrases(const CwCountLine *line, const CwDayRun *run);

/// How much faster a run is than the dance's recording, in percent.
double cw_day_percent(const CwDayRun *run);

#endif
