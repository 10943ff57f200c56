// SPDX-License-Identifier: GPL-3.0-or-later
/// Pins: which of them can all be true, and times that obey them.
#ifndef CW_LINEUP_PINS_H
#define CW_LINEUP_PINS_H

#include <stdbool.h>

#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"
#include "lineup/plan.h"

/// Put the notes' pins into a plan: the counts that are pinned, and those whose place follows from pins nearby.
/// @param duration_s Length of the recording.
/// @param messages Told of each pin that cannot be true beside those before it, and is left out.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_pins_set(const CwNotebook *notebook, double duration_s, CwPlan *plan, CwMessages *messages);

/// Index after the last count that a pin speaks of; 0 when there are no pins.
size_t cw_pins_end(const CwPlan *plan);

/// Whether count `i` has an end of its own: a hold follows it, or nothing.
bool cw_plan_is_cut(const CwPlan *plan, size_t i);

/// Move times as little as need be, so that every pin is obeyed and they ascend strictly.
/// @param[in,out] time_s plan->n times of the counts.
/// @param[in,out] end_s plan->n times where the counts end; read and written where cw_plan_is_cut().
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_pins_obey(const CwPlan *plan, double *time_s, double *end_s);

#endif
