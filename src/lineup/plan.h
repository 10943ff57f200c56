// SPDX-License-Identifier: GPL-3.0-or-later
/// What the notes say of every count, in order: the plan that the music is searched for.
#ifndef CW_LINEUP_PLAN_H
#define CW_LINEUP_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

/// One count of the notes.
typedef struct {
  size_t phrase;    ///< index from 0
  double beats;     ///< beats that it lasts
  bool on_beat;     ///< it falls on a beat, not between two
  float accent;     ///< how accented its beat should be (see pulse/lanes.h); 0 when the metre is not known
  bool after_hold;  ///< music out of tempo may lie before it
  bool new_section; ///< the tempo may change freely before it
  double pin_s;     ///< where it is pinned; NaN when it is not
} CwPlanCount;

/// A pin between two counts: "3&" is at this time.
typedef struct {
  size_t count; ///< index of the count before it
  double part;  ///< 0 to 1 of the way to the next
  double time_s;
} CwPartPin;

/// The plan. Release with cw_plan_free().
typedef struct {
  CwPlanCount *count;
  size_t n;
  CwPartPin *part_pin;
  size_t n_part_pins;
} CwPlan;

/// Make the plan of a notebook.
/// @param beats_per_count Overrides the notes when over 0.
/// @param with_pins Whether the notes' pins hold for this recording.
/// @param messages Told of pins that contradict each other; the later of two is then left out.
/// @return CW_OK or CW_ERR_NO_MEM; on error the plan is empty.
CW_NODISCARD CwStatus cw_plan_make(const CwNotebook *notebook, double beats_per_count, bool with_pins, CwPlan *plan,
                                   CwMessages *messages);

/// Release and set to empty.
void cw_plan_free(CwPlan *plan);

#endif
