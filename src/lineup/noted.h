// SPDX-License-Identifier: GPL-3.0-or-later
/// The notes' tempos in words or numbers, as a plan takes them.
#ifndef CW_LINEUP_NOTED_H
#define CW_LINEUP_NOTED_H

#include "countwright/notebook.h"
#include "lineup/plan.h"

/// Set each count's pace and seconds by the notes' tempos.
void cw_plan_note_tempos(const CwNotebook *notebook, CwPlan *plan);

/// Bring the likely seconds of a count nearer to what the notes' tempos mean, where they speak of about the same.
double cw_noted_count(const CwPlan *plan, double likely_s);

#endif
