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
  size_t phrase;       ///< index from 0
  double beats;        ///< beats that it lasts
  double ln_pace;      ///< ln of how much slower than the rest the notes' tempo has it; 0 where they do not say
  double ln_stretch;   ///< ln of how much slower than the whole the stretch from pin to pin is; 0 without pins
  double noted_low_s;  ///< seconds of it by the notes' tempo, from ...
  double noted_high_s; ///< ... to; 0 where they do not say
  bool on_beat;        ///< it falls on a beat, not between two
  double to_beat;      ///< beats from it to the next beat: 1 when it is on a beat
  float accent;        ///< how accented its beat should be (see pulse/lanes.h); 0 when the metre is not known
  bool after_hold;     ///< music out of tempo may lie before it
  double hold_s;       ///< how long that is by the notes; 0 when they do not say
  bool new_section;    ///< the tempo may change freely before it
  double pin_s;        ///< where it must lie: at its pin, or where pins nearby put it; these ascend; NaN when free
  bool spread;         ///< no pin says so: it is put evenly between pins that leave room for no usual tempo
  const float *worth;  ///< by place in its band: what else speaks for it there; NULL when nothing does
  double part;         ///< how far into it, over 0 and under 1, a pin lies ("3&"); 0 when none does
  double part_s;       ///< where that pin is
} CwPlanCount;

/// The plan. Release with cw_plan_free().
typedef struct {
  CwPlanCount *count;
  size_t n;
} CwPlan;

/// Make the plan of a notebook.
/// @param beats_per_count Overrides the notes when over 0.
/// @param messages Told of beats per count that no music has.
/// @return CW_OK or CW_ERR_NO_MEM; on error the plan is empty.
CW_NODISCARD CwStatus cw_plan_make(const CwNotebook *notebook, double beats_per_count, CwPlan *plan,
                                   CwMessages *messages);

/// Phrases of a plan.
size_t cw_plan_phrases(const CwPlan *plan);

/// Whether someone says how many beats a count has: `beats_per_count` when it is over 0, or the notes.
bool cw_plan_level_is_given(const CwNotebook *notebook, double beats_per_count);

/// Release and set to empty.
void cw_plan_free(CwPlan *plan);

#endif
