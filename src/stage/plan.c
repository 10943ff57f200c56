// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/stage_plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "stage/place.h"

/// Most wings a side that are drawn.
enum { MOST_WINGS = 8 };

/// A plan being made. `full` is set when memory runs out.
typedef struct {
  CwStagePlan *plan;
  const char *who; ///< is meant where nobody is named
  bool others;     ///< and is not the dancer
  const CwStagePlan *before;
  size_t capacity;
  bool full;
} Making;

static bool same_name(const char *a, const char *b)
{
  return a && b ? strcasecmp(a, b) == 0 : a == b;
}

static CwStagePlanTrack *find_track(const CwStagePlan *plan, const char *name)
{
  for (size_t i = 0; plan && i < plan->n; i++) {
    if (same_name(plan->track[i].name, name)) {
      return &plan->track[i];
    }
  }
  return NULL;
}

/// The way of someone, a new one when they have none. @return NULL when there is no room, or memory runs out.
static CwStagePlanTrack *track_of(Making *making, const char *person)
{
  CwStagePlan *plan = making->plan;
  const char *name = person ? person : making->who;
  CwStagePlanTrack *track = find_track(plan, name);
  if (track || plan->n == CW_STAGE_PLAN_TRACKS) {
    return track;
  }
  char *copy = name ? cw_copy_text(name, strlen(name)) : NULL;
  if ((name && !copy) || !cw_grow(&plan->track, &making->capacity, plan->n, sizeof *plan->track)) {
    free(copy);
    making->full = true;
    return NULL;
  }
  track = &plan->track[plan->n++];
  *track = (CwStagePlanTrack){.name = copy, .own = !making->others && same_name(name, making->who), .facing = -1};
  return track;
}

/// Where someone is now: at the end of their way, or where the phrase before left them.
static const CwStagePlanPoint *now_of(const Making *making, const CwStagePlanTrack *track)
{
  const CwStagePlanTrack *before = find_track(making->before, track->name);
  if (track->n_points > 0) {
    return &track->point[track->n_points - 1];
  }
  return before && before->n_points > 0 && !before->end_unknown ? &before->point[before->n_points - 1] : NULL;
}

static void add_point(Making *making, CwStagePlanTrack *track, CwStagePlanPoint point)
{
  if (track->n_points > 0) {
    const CwStagePlanPoint *last = &track->point[track->n_points - 1];
    if (fabs(last->x - point.x) < 1e-6 && fabs(last->y - point.y) < 1e-6) {
      return; // already there
    }
  }
  if (track->n_points == CW_STAGE_PLAN_POINTS) {
    return;
  }
  CwStagePlanPoint *grown = cw_resize(track->point, track->n_points + 1, sizeof *grown);
  if (!grown) {
    making->full = true;
    return;
  }
  track->point = grown;
  grown[track->n_points++] = point;
}

/// Where a place is for someone: what it does not say is as it was. @return false when it is nowhere ("wing 3").
static bool point_of(const Making *making, const CwStagePlanTrack *track, const CwPlace *place, CwStagePlanPoint *point)
{
  const CwStagePlanPoint *now = now_of(making, track);
  const bool on_stage = now && !now->wing;
  if (!place->x_said && place->spot != CW_SPOT_AREA) {
    return false;
  }
  *point = (CwStagePlanPoint){.x = place->x, .y = place->y, .wing = place->spot == CW_SPOT_WING};
  if (!place->x_said && on_stage) {
    point->x = now->x;
  }
  if (!place->y_said && on_stage && place->x != 0) {
    point->y = now->y;
  }
  if (place->wing > making->plan->wings) {
    making->plan->wings = place->wing < MOST_WINGS ? place->wing : MOST_WINGS;
  }
  if (place->wing > 0) {
    point->y = cw_wing_y(place->wing, making->plan->wings);
  }
  return true;
}

/// A way that begins wherever someone is.
static void begin_open(Making *making, CwStagePlanTrack *track)
{
  if (track->n_points > 0) {
    return;
  }
  const CwStagePlanPoint *now = now_of(making, track);
  if (now) {
    add_point(making, track, (CwStagePlanPoint){.x = now->x, .y = now->y, .wing = now->wing});
  } else {
    track->start_unknown = true;
  }
}

static void take_path(Making *making, CwStagePlanTrack *track, const CwStageReading *reading)
{
  if (reading->open_start && reading->n_places > 0) {
    begin_open(making, track);
  }
  for (size_t i = 0; i < reading->n_places && !making->full; i++) {
    CwStagePlanPoint point;
    if (point_of(making, track, &reading->place[i], &point)) {
      const bool leg = i > 0 || reading->open_start;
      point.line = leg ? reading->line : CW_LINE_STRAIGHT;
      point.bend = leg ? reading->bend : CW_BEND_UNKNOWN;
      add_point(making, track, point);
    }
  }
  track->end_unknown = reading->open_end;
}

static void take_circle(Making *making, CwStagePlanTrack *track, const CwStageReading *reading)
{
  const CwStagePlanPoint *now = now_of(making, track);
  CwStagePlanPoint centre = {.x = 0, .y = CW_MIDDLE_Y};
  if (reading->n_places > 0) {
    (void)point_of(making, track, &reading->place[0], &centre);
  } else if (now && !now->wing && fabs(now->x) < 0.2) {
    centre = *now;
  }
  track->circle = true;
  track->circle_bend = reading->bend;
  track->circle_x = fmax(-0.6, fmin(0.6, centre.x));
  track->circle_y = fmax(0.3, fmin(0.7, centre.y));
}

static void take(Making *making, const CwStageReading *reading)
{
  CwStagePlanTrack *track = track_of(making, reading->person);
  if (!track) {
    return;
  }
  switch (reading->kind) {
  case CW_STAGE_AT:
  case CW_STAGE_PATH:
    take_path(making, track, reading);
    break;
  case CW_STAGE_CIRCLE:
    take_circle(making, track, reading);
    break;
  case CW_STAGE_FACING:
    track->facing = (int)(reading->facing % 8);
    break;
  }
}

static void take_text(Making *making, const char *text)
{
  CwStageReadings readings;
  if (!text || making->full) {
    return;
  }
  making->full = cw_stage_read(text, NULL, &readings) != CW_OK;
  for (size_t i = 0; i < readings.n && !making->full; i++) {
    take(making, &readings.reading[i]);
  }
  cw_stage_readings_free(&readings);
}

/// The dancer's way first: it is drawn over the others.
static void put_dancer_first(CwStagePlan *plan, const char *role)
{
  CwStagePlanTrack *own = find_track(plan, role);
  if (own) {
    const CwStagePlanTrack first = *own;
    memmove(plan->track + 1, plan->track, (size_t)(own - plan->track) * sizeof *plan->track);
    plan->track[0] = first;
  }
}

static CwStatus take_all(Making *making, const CwStep *step, size_t n_steps, const char *remark)
{
  take_text(making, remark);
  for (size_t i = 0; i < n_steps; i++) {
    take_text(making, step[i].text);
  }
  if (making->full) {
    cw_stage_plan_free(making->plan);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_stage_plan_make(const CwStep *step, size_t n_steps, const char *remark, const char *role,
                            const CwStagePlan *before, CwStagePlan *plan)
{
  *plan = (CwStagePlan){.wings = CW_WINGS_USUAL};
  Making making = {.plan = plan, .who = role, .before = before};
  const CwStatus status = take_all(&making, step, n_steps, remark);
  if (status == CW_OK) {
    put_dancer_first(plan, role);
  }
  return status;
}

CwStatus cw_stage_plan_add(const CwStep *step, size_t n_steps, const char *remark, const char *role,
                           const CwStagePlan *before, CwStagePlan *plan)
{
  Making making = {.plan = plan, .who = role ? role : CW_STAGE_PLAN_SOMEONE, .others = true, .before = before};
  making.capacity = plan->n;
  return take_all(&making, step, n_steps, remark);
}

CwStatus cw_stage_plan_go_on(const CwStagePlan *plan, CwStagePlan *where)
{
  Making making = {.plan = where, .capacity = where->n};
  for (size_t i = 0; i < plan->n && !making.full; i++) {
    const CwStagePlanTrack *from = &plan->track[i];
    if (from->n_points == 0) {
      continue;
    }
    CwStagePlanTrack *to = track_of(&making, from->name);
    if (to) {
      to->n_points = 0;
      to->end_unknown = from->end_unknown;
      add_point(&making, to, from->point[from->n_points - 1]);
    }
  }
  return making.full ? CW_ERR_NO_MEM : CW_OK;
}

bool cw_stage_plan_shows(const CwStagePlan *plan)
{
  for (size_t i = 0; i < plan->n; i++) {
    if (plan->track[i].n_points > 0 || plan->track[i].circle) {
      return true;
    }
  }
  return false;
}

void cw_stage_plan_free(CwStagePlan *plan)
{
  if (!plan) {
    return;
  }
  for (size_t i = 0; i < plan->n; i++) {
    free(plan->track[i].name);
    free(plan->track[i].point);
  }
  free(plan->track);
  *plan = (CwStagePlan){0};
}
