// SPDX-License-Identifier: GPL-3.0-or-later
/// Ways and marks on a plan. The dancer's way is heavy and whole, her marks round; others' ways are light and dashed,
/// their marks square. An open mark is a start, a filled one an end or where someone stays.
#include <math.h>
#include <string.h>

#include "stage/plan_draw.h"

/// Half the size of a mark.
static const double mark_size = 2.4;

/// Points that stand for a leg among what labels avoid.
enum { LEG_DOTS = 24 };

static double mark_radius(const CwStagePlanPaper *paper)
{
  return mark_size * paper->unit;
}

double cw_stage_plan_mark(const CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  return mark_radius(paper) * (track->own ? 1 : 0.85);
}

double cw_stage_plan_round(const CwStagePlanPaper *paper)
{
  return paper->depth * 0.24;
}

/// A point on a leg, `t` from 0 to 1.
static void leg_at(const CwStagePlanLeg *leg, double t, double *x, double *y)
{
  const double s = 1 - t;
  const double w[4] = {s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t};
  *x = 0;
  *y = 0;
  for (int i = 0; i < 4; i++) {
    *x += w[i] * leg->x[i];
    *y += w[i] * leg->y[i];
  }
}

/// Whether two tracks have a point in common.
static bool meet(const CwStagePlanTrack *a, const CwStagePlanTrack *b)
{
  for (size_t i = 0; i < a->n_points; i++) {
    for (size_t k = 0; k < b->n_points; k++) {
      if (fabs(a->point[i].x - b->point[k].x) < 1e-6 && fabs(a->point[i].y - b->point[k].y) < 1e-6) {
        return true;
      }
    }
  }
  return false;
}

void cw_stage_plan_find_lanes(CwStagePlanPaper *paper)
{
  const CwStagePlan *plan = paper->plan;
  for (size_t i = 0; i < plan->n; i++) {
    int shared = 0;
    for (size_t k = 0; k < i; k++) {
      shared += meet(&plan->track[k], &plan->track[i]);
    }
    paper->lane[i] = shared % 2 ? (shared + 1) / 2 : -shared / 2; // 1, -1, 2, -2 ...
  }
}

void cw_stage_plan_point(const CwStagePlanPaper *paper, const CwStagePlanTrack *track, size_t i, double *x, double *y)
{
  const int lane = paper->lane[track - paper->plan->track];
  cw_stage_plan_to_paper(paper, track->point[i].x, track->point[i].y, x, y);
  *x += 2.6 * mark_radius(paper) * lane;
  *y -= 1.3 * mark_radius(paper) * (lane > 0 ? lane : -lane); // upwards: there is no audience
}

/// Whether a leg goes back where the one before it came from.
static bool turns_back(const CwStagePlanTrack *track, size_t i)
{
  if (i < 2) {
    return false;
  }
  const CwStagePlanPoint *p = &track->point[i - 2];
  const double ax = p[1].x - p[0].x;
  const double ay = p[1].y - p[0].y;
  const double bx = p[2].x - p[1].x;
  const double by = p[2].y - p[1].y;
  return ax * bx + ay * by < -0.9 * hypot(ax, ay) * hypot(bx, by);
}

/// How far a leg goes out to its right (on paper), as a share of its length.
static double bulge_of(const CwStagePlanTrack *track, size_t i)
{
  const CwStagePlanPoint *to = &track->point[i];
  if (to->line == CW_LINE_CURVE) {
    return to->bend == CW_BEND_RIGHT ? -0.35 : 0.35; // who bends to the left goes out to the right first
  }
  return turns_back(track, i) ? 0.14 : 0;
}

CwStagePlanLeg cw_stage_plan_leg(const CwStagePlanPaper *paper, const CwStagePlanTrack *track, size_t i)
{
  CwStagePlanLeg leg;
  cw_stage_plan_point(paper, track, i - 1, &leg.x[0], &leg.y[0]);
  cw_stage_plan_point(paper, track, i, &leg.x[3], &leg.y[3]);
  const double dx = leg.x[3] - leg.x[0];
  const double dy = leg.y[3] - leg.y[0];
  // seen from above, the right of a way to (dx, dy) is (-dy, dx) on paper
  const double bulge = bulge_of(track, i);
  for (int k = 1; k <= 2; k++) {
    leg.x[k] = leg.x[0] + dx * k / 3 - dy * bulge;
    leg.y[k] = leg.y[0] + dy * k / 3 + dx * bulge;
  }
  const double length = fmax(hypot(dx, dy), 1e-9);
  const double clear = fmin(1.5 * mark_radius(paper), length / 3);
  for (int end = 0; end <= 3; end += 3) { // along the way as it leaves and comes
    const bool marked = end ? i + 1 == track->n_points : i == 1;
    const int inner = end ? 2 : 1;
    const double ux = leg.x[inner] - leg.x[end];
    const double uy = leg.y[inner] - leg.y[end];
    const double away = marked ? clear / fmax(hypot(ux, uy), 1e-9) : 0;
    leg.x[end] += ux * away;
    leg.y[end] += uy * away;
  }
  return leg;
}

/// A filled arrow head with its point at x, y.
static void draw_head(CwStagePlanPaper *paper, double x, double y, double angle, double size)
{
  cairo_t *cr = paper->cr;
  size *= paper->unit;
  cairo_move_to(cr, x, y);
  cairo_line_to(cr, x - size * cos(angle - 0.42), y - size * sin(angle - 0.42));
  cairo_line_to(cr, x - size * cos(angle + 0.42), y - size * sin(angle + 0.42));
  cairo_close_path(cr);
  cairo_fill(cr);
  const double middle_x = x - size / 2 * cos(angle);
  const double middle_y = y - size / 2 * sin(angle);
  (void)cw_stage_plan_keep(&paper->room, (CwStagePlanBox){middle_x - size / 2, middle_y - size / 2, size, size});
}

static void style_line(CwStagePlanPaper *paper, bool own)
{
  cairo_set_line_width(paper->cr, (own ? 1.5 : 0.8) * paper->unit);
  const double dash[] = {3 * paper->unit, 1.6 * paper->unit};
  cairo_set_dash(paper->cr, dash, own ? 0 : 2, 0);
}

static void draw_leg(CwStagePlanPaper *paper, const CwStagePlanLeg *leg, bool own)
{
  const double size = own ? 5.2 : 4.4;
  const double angle = atan2(leg->y[3] - leg->y[2], leg->x[3] - leg->x[2]);
  const double back = size * 0.7 * paper->unit;
  style_line(paper, own);
  cairo_move_to(paper->cr, leg->x[0], leg->y[0]);
  cairo_curve_to(paper->cr, leg->x[1], leg->y[1], leg->x[2], leg->y[2], leg->x[3] - back * cos(angle),
                 leg->y[3] - back * sin(angle));
  cairo_stroke(paper->cr);
  cairo_set_dash(paper->cr, NULL, 0, 0);
  draw_head(paper, leg->x[3], leg->y[3], angle, size);
  for (int i = 0; i <= LEG_DOTS; i++) {
    double x;
    double y;
    leg_at(leg, (double)i / LEG_DOTS, &x, &y);
    cw_stage_plan_keep_dot(&paper->room, x, y, 1);
  }
}

/// The mark of point `i`: round for the dancer, square for others; filled or open.
static void draw_mark(CwStagePlanPaper *paper, const CwStagePlanTrack *track, size_t i, bool filled)
{
  cairo_t *cr = paper->cr;
  const double radius = cw_stage_plan_mark(paper, track);
  double x;
  double y;
  cw_stage_plan_point(paper, track, i, &x, &y);
  cairo_new_path(cr);
  if (track->own) {
    cairo_arc(cr, x, y, radius, 0, 2 * acos(-1.0));
  } else {
    cairo_rectangle(cr, x - radius, y - radius, 2 * radius, 2 * radius);
  }
  cairo_set_source_rgb(cr, filled ? 0 : 1, filled ? 0 : 1, filled ? 0 : 1);
  cairo_fill_preserve(cr);
  cairo_set_source_rgb(cr, 0, 0, 0);
  cairo_set_line_width(cr, 0.9 * paper->unit);
  cairo_stroke(cr);
  (void)cw_stage_plan_keep(&paper->room, (CwStagePlanBox){x - radius, y - radius, 2 * radius, 2 * radius});
}

/// Where someone faces: a stroke from the mark, with a bar across its end.
static void draw_facing(CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  if (track->facing < 0 || track->n_points == 0) {
    return;
  }
  double x;
  double y;
  cw_stage_plan_point(paper, track, track->n_points - 1, &x, &y);
  // 0 is down the paper, stage left is to the right
  const double angle = acos(-1.0) / 2 - track->facing * acos(-1.0) / 4;
  const double near = mark_radius(paper);
  const double far = near + 3.6 * paper->unit;
  const double bar = 2 * paper->unit;
  const double end_x = x + far * cos(angle);
  const double end_y = y + far * sin(angle);
  cairo_set_line_width(paper->cr, 0.9 * paper->unit);
  cairo_move_to(paper->cr, x + near * cos(angle), y + near * sin(angle));
  cairo_line_to(paper->cr, end_x, end_y);
  cairo_move_to(paper->cr, end_x - bar * sin(angle), end_y + bar * cos(angle));
  cairo_line_to(paper->cr, end_x + bar * sin(angle), end_y - bar * cos(angle));
  cairo_stroke(paper->cr);
  (void)cw_stage_plan_keep(&paper->room, (CwStagePlanBox){end_x - bar, end_y - bar, 2 * bar, 2 * bar});
}

static void draw_circle(CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  double x;
  double y;
  if (!track->circle) {
    return;
  }
  cw_stage_plan_to_paper(paper, track->circle_x, track->circle_y, &x, &y);
  const double radius = cw_stage_plan_round(paper);
  const double pi = acos(-1.0);
  style_line(paper, track->own);
  cairo_new_path(paper->cr);
  cairo_arc(paper->cr, x, y, radius, pi * CW_STAGE_PLAN_ROUND_FROM, pi * CW_STAGE_PLAN_ROUND_TO);
  cairo_stroke(paper->cr);
  cairo_set_dash(paper->cr, NULL, 0, 0);
  // clockwise on paper is clockwise seen from above, and bends to the right
  const double end = track->circle_bend == CW_BEND_RIGHT ? pi * CW_STAGE_PLAN_ROUND_TO : pi * CW_STAGE_PLAN_ROUND_FROM;
  if (track->circle_bend != CW_BEND_UNKNOWN) {
    const double way = track->circle_bend == CW_BEND_RIGHT ? end + pi / 2 : end - pi / 2;
    draw_head(paper, x + radius * cos(end) + 2 * paper->unit * cos(way),
              y + radius * sin(end) + 2 * paper->unit * sin(way), way, track->own ? 5.2 : 4.4);
  }
  for (int i = 0; i < 2 * LEG_DOTS; i++) {
    const double angle = pi * i / LEG_DOTS;
    cw_stage_plan_keep_dot(&paper->room, x + radius * cos(angle), y + radius * sin(angle), 1);
  }
}

void cw_stage_plan_draw_track(CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  draw_circle(paper, track);
  for (size_t i = 1; i < track->n_points; i++) {
    const CwStagePlanLeg leg = cw_stage_plan_leg(paper, track, i);
    draw_leg(paper, &leg, track->own);
  }
  for (size_t i = 0; i < track->n_points; i++) {
    const bool first = i == 0 && !track->start_unknown && (track->n_points > 1 || track->end_unknown);
    const bool last = i + 1 == track->n_points && !track->end_unknown;
    if (first || last) {
      draw_mark(paper, track, i, last && !first);
    }
  }
  draw_facing(paper, track);
}

/// A name in at most so much width, its end left out when it is longer.
static void set_name(CwStagePlanPaper *paper, const char *name, double *width, double *height)
{
  PangoRectangle box;
  pango_layout_set_text(paper->layout, name, -1);
  pango_layout_set_ellipsize(paper->layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_single_paragraph_mode(paper->layout, TRUE);
  pango_layout_set_width(paper->layout, (int)(paper->width * 0.8 * PANGO_SCALE));
  pango_layout_get_extents(paper->layout, NULL, &box);
  *width = (double)box.width / PANGO_SCALE;
  *height = (double)box.height / PANGO_SCALE;
}

/// A name with a white rim, which parts it from lines under it.
static void show_name(CwStagePlanPaper *paper, double x, double y)
{
  cairo_move_to(paper->cr, x, y);
  pango_cairo_layout_path(paper->cr, paper->layout);
  cairo_set_source_rgb(paper->cr, 1, 1, 1);
  cairo_set_line_width(paper->cr, 1.6);
  cairo_stroke(paper->cr);
  cairo_set_source_rgb(paper->cr, 0, 0, 0);
  cairo_move_to(paper->cr, x, y);
  pango_cairo_show_layout(paper->cr, paper->layout);
}

void cw_stage_plan_draw_names(CwStagePlanPaper *paper)
{
  for (size_t i = 0; i < paper->plan->n; i++) {
    const CwStagePlanTrack *track = &paper->plan->track[i];
    if (!track->name || (track->n_points == 0 && !track->circle)) {
      continue;
    }
    double x;
    double y;
    double width;
    double height;
    CwStagePlanBox label;
    if (track->n_points > 0) {
      cw_stage_plan_point(paper, track, 0, &x, &y);
    } else {
      cw_stage_plan_to_paper(paper, track->circle_x, track->circle_y, &x, &y);
    }
    set_name(paper, track->name, &width, &height);
    if (cw_stage_plan_place_label(&paper->room, x, y, mark_radius(paper), width, height, &label)) {
      PangoRectangle box;
      pango_layout_get_extents(paper->layout, NULL, &box);
      show_name(paper, label.x - (double)box.x / PANGO_SCALE, label.y - (double)box.y / PANGO_SCALE);
    }
  }
}
