// SPDX-License-Identifier: GPL-3.0-or-later
/// How a plan is laid out on paper.
#ifndef CW_STAGE_PLAN_DRAW_H
#define CW_STAGE_PLAN_DRAW_H

#include <pango/pangocairo.h>

#include "countwright/stage_plan.h"
#include "stage/plan_labels.h"

/// A plan on paper. Lengths in points.
typedef struct {
  cairo_t *cr;
  PangoLayout *layout;
  const CwStagePlan *plan;
  double left, top; ///< of the stage's own box
  double width, depth;
  double unit;                    ///< what lines and marks are sized by: 1 where the plan is 85 points (30 mm) wide
  int lane[CW_STAGE_PLAN_TRACKS]; ///< marks to the side that each track is moved
  CwStagePlanRoom room;
} CwStagePlanPaper;

/// A way between two points: a cubic.
typedef struct {
  double x[4];
  double y[4];
} CwStagePlanLeg;

/// Lay a plan out, its top left corner at x, y, with the lanes of its tracks; nothing to draw with yet.
void cw_stage_plan_frame(const CwStagePlan *plan, double x, double y, double width, CwStagePlanPaper *paper);

/// Half the size of the mark of a track's beginning and end.
double cw_stage_plan_mark(const CwStagePlanPaper *paper, const CwStagePlanTrack *track);

/// The radius of a circle that someone goes round in, and where on it that begins and ends: the gap is at its foot.
double cw_stage_plan_round(const CwStagePlanPaper *paper);
#define CW_STAGE_PLAN_ROUND_FROM 0.62 ///< in half turns clockwise from stage left
#define CW_STAGE_PLAN_ROUND_TO 2.38

/// Where a point of a track is on paper: beside the tracks before it that come to the same points.
void cw_stage_plan_point(const CwStagePlanPaper *paper, const CwStagePlanTrack *track, size_t i, double *x, double *y);

/// The leg of a track that comes to its point `i`, on paper, kept clear of the marks at the track's ends.
CwStagePlanLeg cw_stage_plan_leg(const CwStagePlanPaper *paper, const CwStagePlanTrack *track, size_t i);

/// Where a point of the stage is on paper.
void cw_stage_plan_to_paper(const CwStagePlanPaper *paper, double x, double y, double *paper_x, double *paper_y);

/// Find the lanes of all tracks.
void cw_stage_plan_find_lanes(CwStagePlanPaper *paper);

/// The stage: edges, audience, wings, quarter marks.
void cw_stage_plan_draw_stage(CwStagePlanPaper *paper);

/// The ways and marks of a track; keeps them clear of labels.
void cw_stage_plan_draw_track(CwStagePlanPaper *paper, const CwStagePlanTrack *track);

/// The names; after all tracks are drawn.
void cw_stage_plan_draw_names(CwStagePlanPaper *paper);

#endif
