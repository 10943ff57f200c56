// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/plan_labels.h"

#include <math.h>

/// Between a label and what it keeps clear of, in points.
static const double gap = 0.8;

static bool overlap(const CwStagePlanBox *a, const CwStagePlanBox *b)
{
  return a->x < b->x + b->width + gap && b->x < a->x + a->width + gap && a->y < b->y + b->height + gap &&
         b->y < a->y + a->height + gap;
}

bool cw_stage_plan_keep(CwStagePlanRoom *room, CwStagePlanBox box)
{
  if (room->n_boxes == CW_STAGE_PLAN_BOXES) {
    return false;
  }
  room->box[room->n_boxes++] = box;
  return true;
}

void cw_stage_plan_keep_dot(CwStagePlanRoom *room, double x, double y, double weight)
{
  if (room->n_dots < CW_STAGE_PLAN_DOTS) {
    room->dot[room->n_dots][0] = x;
    room->dot[room->n_dots][1] = y;
    room->dot[room->n_dots++][2] = weight;
  }
}

static bool is_free(const CwStagePlanRoom *room, const CwStagePlanBox *box)
{
  const CwStagePlanBox *bounds = &room->bounds;
  if (box->x < bounds->x || box->y < bounds->y || box->x + box->width > bounds->x + bounds->width ||
      box->y + box->height > bounds->y + bounds->height) {
    return false;
  }
  for (size_t i = 0; i < room->n_boxes; i++) {
    if (overlap(box, &room->box[i])) {
      return false;
    }
  }
  return true;
}

/// Dots of ways under a box.
static double dots_under(const CwStagePlanRoom *room, const CwStagePlanBox *box)
{
  double n = 0;
  for (size_t i = 0; i < room->n_dots; i++) {
    const double x = room->dot[i][0];
    const double y = room->dot[i][1];
    n += x > box->x && x < box->x + box->width && y > box->y && y < box->y + box->height ? room->dot[i][2] : 0;
  }
  return n;
}

bool cw_stage_plan_place_label(CwStagePlanRoom *room, double x, double y, double radius, double width, double height,
                               CwStagePlanBox *label)
{
  enum { RINGS = 5, ANGLES = 16 };
  double least = INFINITY;
  for (int ring = 0; ring < RINGS; ring++) {
    for (int k = 0; k < ANGLES; k++) {
      const double angle = k * acos(-1.0) / (ANGLES / 2.0);
      const double reach = radius + 1.5 + ring * height * 0.6;
      // the label's edge, not its middle, is at that distance
      const CwStagePlanBox box = {x + cos(angle) * (reach + width / 2) - width / 2,
                                  y + sin(angle) * (reach + height / 2) - height / 2, width, height};
      // over and under a mark reads best; far away worst
      const double cost = dots_under(room, &box) + 4 * ring + fabs(cos(angle));
      if (cost < least && is_free(room, &box)) {
        least = cost;
        *label = box;
      }
    }
  }
  return least < INFINITY && cw_stage_plan_keep(room, *label);
}
