// SPDX-License-Identifier: GPL-3.0-or-later
/// Where the names on a plan stand, so that none lies over another, over a mark or, where it can be helped, over a way.
#ifndef CW_STAGE_PLAN_LABELS_H
#define CW_STAGE_PLAN_LABELS_H

#include <stdbool.h>
#include <stddef.h>

/// A box on the plan.
typedef struct {
  double x, y, width, height;
} CwStagePlanBox;

/// Most things that labels keep clear of, and points of ways that they should.
enum { CW_STAGE_PLAN_BOXES = 96, CW_STAGE_PLAN_DOTS = 1024 };

/// What is on the plan already.
typedef struct {
  CwStagePlanBox bounds;
  CwStagePlanBox box[CW_STAGE_PLAN_BOXES]; ///< marks and labels
  size_t n_boxes;
  double dot[CW_STAGE_PLAN_DOTS][3]; ///< points along lines, and how much each should be kept clear
  size_t n_dots;
} CwStagePlanRoom;

/// Keep a box clear. @return false when there are too many.
bool cw_stage_plan_keep(CwStagePlanRoom *room, CwStagePlanBox box);

/// Ask for a point to be kept clear. @param weight 1 for a way, less for what matters less.
void cw_stage_plan_keep_dot(CwStagePlanRoom *room, double x, double y, double weight);

/// Find a place for a label of that size about a mark at x, y of that radius, and keep it clear.
/// @return false when there is none.
bool cw_stage_plan_place_label(CwStagePlanRoom *room, double x, double y, double radius, double width, double height,
                               CwStagePlanBox *label);

#endif
