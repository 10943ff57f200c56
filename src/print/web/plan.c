// SPDX-License-Identifier: GPL-3.0-or-later
/// A phrase's stage plan as a picture in the page, drawn as on paper (src/stage/plan_*.c) but in the page's own ink.
#include <math.h>
#include <string.h>

#include "base/format.h"
#include "print/label.h"
#include "print/look.h"
#include "print/web/page.h"
#include "print/wrap.h"
#include "stage/place.h"
#include "stage/plan_draw.h"

/// Width of the picture's own units, and the size of its letters in them.
#define WIDTH 170.0
#define LETTER 11.0
#define WINGS 9.0         ///< room beside it for marks in the wings
#define LETTER_WIDTH 0.55 ///< of a letter, for one column of a terminal

static const double pi = 3.14159265358979323846;

static void put_number(CwWebPage *page, double value)
{
  char text[32];
  cw_page_format(page, "%s ", cw_format_fixed(text, sizeof text, value, 1));
}

static void put_point(CwWebPage *page, const char *command, double x, double y)
{
  cw_page_put(page, command);
  put_number(page, x);
  put_number(page, y);
}

static void put_line(CwWebPage *page, double x0, double y0, double x1, double y1)
{
  put_point(page, "M", x0, y0);
  put_point(page, "L", x1, y1);
}

/// Wings, quarter and eighth marks, heads of the audience.
static void put_stage(CwWebPage *page, const CwStagePlanPaper *paper)
{
  static const struct {
    double x, length;
  } mark[] = {{0, 4}, {CW_QUARTER_X, 2.8}, {-CW_QUARTER_X, 2.8}, {CW_EIGHTH_X, 1.5}, {-CW_EIGHTH_X, 1.5}};
  enum { HEADS = 9 };
  const double right = paper->left + paper->width;
  const double front = paper->top + paper->depth;
  const double unit = paper->unit;
  cw_page_put(page, "<path class=\"edge\" d=\"");
  put_line(page, paper->left, paper->top, right, paper->top);
  for (unsigned i = 0; i <= paper->plan->wings; i++) {
    const double y = paper->top + paper->depth * i / paper->plan->wings;
    put_line(page, paper->left - 4.5 * unit, y, paper->left, y);
    put_line(page, right, y, right + 4.5 * unit, y);
  }
  for (size_t i = 0; i < sizeof mark / sizeof mark[0]; i++) {
    double x;
    double y;
    cw_stage_plan_to_paper(paper, mark[i].x, 0, &x, &y);
    put_line(page, x, front, x, front - mark[i].length * unit);
    put_line(page, x, paper->top, x, paper->top + mark[i].length * unit * 0.6);
  }
  for (int i = 0; i < HEADS; i++) {
    const double x = paper->left + paper->width * (i + 0.5) / HEADS;
    put_point(page, "M", x - 1.3 * unit, front + 5.2 * unit);
    put_point(page, "a", 1.3 * unit, 1.3 * unit);
    cw_page_put(page, "0 0 1 ");
    put_number(page, 2.6 * unit);
    cw_page_put(page, "0z");
  }
  cw_page_put(page, "\"/><path class=\"edge sides\" d=\"");
  put_line(page, paper->left, paper->top, paper->left, front);
  put_line(page, right, paper->top, right, front);
  cw_page_put(page, "\"/><path class=\"front\" d=\"");
  put_line(page, paper->left - 2 * unit, front, right + 2 * unit, front);
  cw_page_put(page, "\"/>\n");
}

/// A filled arrow head with its point at x, y.
static void put_head(CwWebPage *page, CwStagePlanPaper *paper, double x, double y, double angle, bool own)
{
  const double size = (own ? 5.2 : 4.4) * paper->unit;
  cw_page_put(page, "<path class=\"head\" d=\"");
  put_point(page, "M", x, y);
  put_point(page, "L", x - size * cos(angle - 0.42), y - size * sin(angle - 0.42));
  put_point(page, "L", x - size * cos(angle + 0.42), y - size * sin(angle + 0.42));
  cw_page_put(page, "z\"/>");
  (void)cw_stage_plan_keep(&paper->room, (CwStagePlanBox){x - size / 2, y - size / 2, size, size});
}

static void put_leg(CwWebPage *page, CwStagePlanPaper *paper, const CwStagePlanLeg *leg, bool own)
{
  const double angle = atan2(leg->y[3] - leg->y[2], leg->x[3] - leg->x[2]);
  const double back = 3.2 * paper->unit; // the line ends inside the head
  cw_page_format(page, "<path class=\"way%s\" d=\"", own ? " own" : "");
  put_point(page, "M", leg->x[0], leg->y[0]);
  put_point(page, "C", leg->x[1], leg->y[1]);
  put_point(page, "", leg->x[2], leg->y[2]);
  put_point(page, "", leg->x[3] - back * cos(angle), leg->y[3] - back * sin(angle));
  cw_page_put(page, "\"/>");
  put_head(page, paper, leg->x[3], leg->y[3], angle, own);
  for (int i = 0; i <= 16; i++) {
    const double t = i / 16.0;
    const double s = 1 - t;
    const double w[4] = {s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t};
    cw_stage_plan_keep_dot(&paper->room, w[0] * leg->x[0] + w[1] * leg->x[1] + w[2] * leg->x[2] + w[3] * leg->x[3],
                           w[0] * leg->y[0] + w[1] * leg->y[1] + w[2] * leg->y[2] + w[3] * leg->y[3], 1);
  }
}

static void put_circle(CwWebPage *page, CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  double x;
  double y;
  cw_stage_plan_to_paper(paper, track->circle_x, track->circle_y, &x, &y);
  const double radius = cw_stage_plan_round(paper);
  const double from = pi * CW_STAGE_PLAN_ROUND_FROM;
  const double to = pi * CW_STAGE_PLAN_ROUND_TO;
  cw_page_format(page, "<path class=\"way%s\" d=\"", track->own ? " own" : "");
  put_point(page, "M", x + radius * cos(from), y + radius * sin(from));
  put_point(page, "A", radius, radius);
  put_point(page, "0 1 1 ", x + radius * cos(to), y + radius * sin(to));
  cw_page_put(page, "\"/>");
  if (track->circle_bend != CW_BEND_UNKNOWN) {
    const bool right = track->circle_bend == CW_BEND_RIGHT;
    const double end = right ? to : from;
    const double way = right ? end + pi / 2 : end - pi / 2;
    put_head(page, paper, x + radius * cos(end) + 2 * paper->unit * cos(way),
             y + radius * sin(end) + 2 * paper->unit * sin(way), way, track->own);
  }
}

/// The mark of point `i`: round for the dancer, square for others; filled or open.
static void put_mark(CwWebPage *page, CwStagePlanPaper *paper, const CwStagePlanTrack *track, size_t i, bool filled)
{
  const double radius = cw_stage_plan_mark(paper, track);
  double x;
  double y;
  cw_stage_plan_point(paper, track, i, &x, &y);
  cw_page_format(page, "<path class=\"mark%s\" d=\"", filled ? " filled" : "");
  if (track->own) {
    put_point(page, "M", x - radius, y);
    for (int half = 0; half < 2; half++) {
      put_point(page, "a", radius, radius);
      put_point(page, "0 0 1 ", half ? -2 * radius : 2 * radius, 0);
    }
  } else {
    put_point(page, "M", x - radius, y - radius);
    put_point(page, "h", 2 * radius, 0);
    put_point(page, "L", x + radius, y + radius);
    put_point(page, "L", x - radius, y + radius);
  }
  cw_page_put(page, "z\"/>");
  (void)cw_stage_plan_keep(&paper->room, (CwStagePlanBox){x - radius, y - radius, 2 * radius, 2 * radius});
}

/// Where someone faces: a stroke from the mark, with a bar across its end.
static void put_facing(CwWebPage *page, const CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  double x;
  double y;
  cw_stage_plan_point(paper, track, track->n_points - 1, &x, &y);
  const double angle = pi / 2 - track->facing * pi / 4;
  const double near = cw_stage_plan_mark(paper, track);
  const double far = near + 3.6 * paper->unit;
  const double bar = 2 * paper->unit;
  cw_page_put(page, "<path class=\"facing\" d=\"");
  put_line(page, x + near * cos(angle), y + near * sin(angle), x + far * cos(angle), y + far * sin(angle));
  put_line(page, x + far * cos(angle) - bar * sin(angle), y + far * sin(angle) + bar * cos(angle),
           x + far * cos(angle) + bar * sin(angle), y + far * sin(angle) - bar * cos(angle));
  cw_page_put(page, "\"/>");
}

static void put_track(CwWebPage *page, CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  if (track->circle) {
    put_circle(page, paper, track);
  }
  for (size_t i = 1; i < track->n_points; i++) {
    const CwStagePlanLeg leg = cw_stage_plan_leg(paper, track, i);
    put_leg(page, paper, &leg, track->own);
  }
  for (size_t i = 0; i < track->n_points; i++) {
    const bool first = i == 0 && !track->start_unknown && (track->n_points > 1 || track->end_unknown);
    const bool last = i + 1 == track->n_points && !track->end_unknown;
    if (first || last) {
      put_mark(page, paper, track, i, last && !first);
    }
  }
  if (track->facing >= 0 && track->n_points > 0) {
    put_facing(page, paper, track);
  }
  cw_page_put(page, "\n");
}

static void put_name(CwWebPage *page, CwStagePlanPaper *paper, const CwStagePlanTrack *track)
{
  double x;
  double y;
  CwStagePlanBox box;
  if (!track->name || (track->n_points == 0 && !track->circle)) {
    return;
  }
  if (track->n_points > 0) {
    cw_stage_plan_point(paper, track, 0, &x, &y);
  } else {
    cw_stage_plan_to_paper(paper, track->circle_x, track->circle_y, &x, &y);
  }
  const double width = cw_text_width(track->name, strlen(track->name)) * LETTER * LETTER_WIDTH;
  if (cw_stage_plan_place_label(&paper->room, x, y, cw_stage_plan_mark(paper, track), width, LETTER, &box)) {
    cw_page_put(page, "<text x=\"");
    put_number(page, box.x + box.width / 2);
    cw_page_put(page, "\" y=\"");
    put_number(page, box.y + 0.82 * LETTER);
    cw_page_put(page, "\">");
    cw_page_text(page, track->name);
    cw_page_put(page, "</text>");
  }
}

/// "Mira: USR > C"
static void tell_track(CwWebPage *page, const CwStagePlanTrack *track)
{
  char name[CW_PLACE_ROOM];
  if (track->name) {
    cw_page_text(page, track->name);
  } else {
    cw_page_label(page, CW_MSG("dancer"));
  }
  cw_page_put(page, ":");
  for (size_t i = 0; i < track->n_points; i++) {
    const CwPlace place = cw_place_nearest(track->point[i].x, track->point[i].y);
    cw_page_put(page, i ? " &gt; " : " ");
    cw_page_text(page, cw_place_name(&place, name));
  }
  if (track->circle) {
    const CwPlace place = cw_place_nearest(track->circle_x, track->circle_y);
    cw_page_put(page, " \u25CB ");
    cw_page_text(page, cw_place_name(&place, name));
  }
}

bool cw_page_has_plans(const CwWebPage *page)
{
  for (size_t i = 0; i < page->sheet->n_rows; i++) {
    if (!page->repeats[i].is_enough && cw_stage_plan_shows(&page->plans[i])) {
      return true;
    }
  }
  return false;
}

void cw_page_plan(CwWebPage *page, const CwStagePlan *plan)
{
  if (!cw_stage_plan_shows(plan)) {
    return;
  }
  CwStagePlanPaper paper;
  cw_stage_plan_frame(plan, 0, 0, WIDTH, &paper);
  cw_page_put(page, "<svg class=\"plan\" role=\"img\" viewBox=\"");
  put_number(page, -WINGS);
  cw_page_put(page, "0 ");
  put_number(page, WIDTH + 2 * WINGS);
  put_number(page, cw_stage_plan_height(WIDTH));
  cw_page_put(page, "\" aria-label=\"");
  cw_page_label(page, CW_MSG("Stage plan"));
  for (size_t i = 0; i < plan->n; i++) {
    cw_page_put(page, i ? "; " : ": ");
    tell_track(page, &plan->track[i]);
  }
  cw_page_put(page, "\">\n");
  put_stage(page, &paper);
  for (size_t i = plan->n; i-- > 0;) {
    put_track(page, &paper, &plan->track[i]);
  }
  for (size_t i = 0; i < plan->n; i++) {
    put_name(page, &paper, &plan->track[i]);
  }
  cw_page_put(page, "</svg>\n");
}
