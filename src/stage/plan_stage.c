// SPDX-License-Identifier: GPL-3.0-or-later
/// The empty stage of a plan.
#include <math.h>

#include "stage/place.h"
#include "stage/plan_draw.h"

static void line(CwStagePlanPaper *paper, double x0, double y0, double x1, double y1, double width)
{
  const int dots = (int)(hypot(x1 - x0, y1 - y0) / (2 * paper->unit));
  for (int i = 0; i <= dots; i++) {
    const double share = (i + 0.5) / (dots + 1);
    cw_stage_plan_keep_dot(&paper->room, x0 + (x1 - x0) * share, y0 + (y1 - y0) * share, 0.25);
  }
  cairo_set_line_width(paper->cr, width * paper->unit);
  cairo_move_to(paper->cr, x0, y0);
  cairo_line_to(paper->cr, x1, y1);
  cairo_stroke(paper->cr);
}

/// The audience: a heavy edge and a row of heads below it.
static void draw_audience(CwStagePlanPaper *paper)
{
  const double front = paper->top + paper->depth;
  const double radius = 1.3 * paper->unit;
  line(paper, paper->left - 2 * paper->unit, front, paper->left + paper->width + 2 * paper->unit, front, 1.8);
  cairo_set_line_width(paper->cr, 0.5 * paper->unit);
  enum { HEADS = 9 };
  for (int i = 0; i < HEADS; i++) {
    const double x = paper->left + paper->width * (i + 0.5) / HEADS;
    cairo_new_sub_path(paper->cr);
    cairo_arc(paper->cr, x, front + 5.2 * paper->unit, radius, acos(-1.0), 0);
    cairo_close_path(paper->cr);
  }
  cairo_stroke(paper->cr);
}

/// Side curtains: a wing is the gap between two of them.
static void draw_wings(CwStagePlanPaper *paper)
{
  const double reach = 4.5 * paper->unit;
  for (unsigned i = 0; i <= paper->plan->wings; i++) {
    const double y = paper->top + paper->depth * i / paper->plan->wings;
    line(paper, paper->left - reach, y, paper->left, y, 1);
    line(paper, paper->left + paper->width, y, paper->left + paper->width + reach, y, 1);
  }
}

/// Marks at the front and the back: the centre line longest, quarters, eighths shortest.
static void draw_marks(CwStagePlanPaper *paper)
{
  static const struct {
    double x, length;
  } mark[] = {{0, 4}, {CW_QUARTER_X, 2.8}, {-CW_QUARTER_X, 2.8}, {CW_EIGHTH_X, 1.5}, {-CW_EIGHTH_X, 1.5}};
  for (size_t i = 0; i < sizeof mark / sizeof mark[0]; i++) {
    double x;
    double front;
    const double length = mark[i].length * paper->unit;
    cw_stage_plan_to_paper(paper, mark[i].x, 0, &x, &front);
    line(paper, x, front, x, front - length, 0.6);
    line(paper, x, paper->top, x, paper->top + length * 0.6, 0.6);
  }
}

void cw_stage_plan_draw_stage(CwStagePlanPaper *paper)
{
  const double right = paper->left + paper->width;
  const double front = paper->top + paper->depth;
  line(paper, paper->left, paper->top, right, paper->top, 0.5);
  cairo_set_dash(paper->cr, (double[]){1.2 * paper->unit, 1.2 * paper->unit}, 2, 0);
  line(paper, paper->left, paper->top, paper->left, front, 0.4);
  line(paper, right, paper->top, right, front, 0.4);
  cairo_set_dash(paper->cr, NULL, 0, 0);
  draw_wings(paper);
  draw_marks(paper);
  draw_audience(paper);
}
