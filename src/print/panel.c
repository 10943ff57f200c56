// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/panel.h"

#include <math.h>

#include "base/format.h"

double cw_panel_x(const CwPanel *panel, double phrase)
{
  return panel->left + (panel->right - panel->left) * phrase / (panel->n ? (double)panel->n : 1);
}

double cw_panel_y(const CwPanel *panel, double value)
{
  const double part = (value - panel->axis.low) / (panel->axis.high - panel->axis.low);
  return panel->bottom - part * (panel->bottom - panel->top);
}

void cw_panel_frame(const CwPanel *panel, const char *title)
{
  CwCanvas *canvas = panel->canvas;
  const double line = cw_canvas_line_height(canvas, CW_FACE_AXIS);
  const int steps = (int)lround((panel->axis.high - panel->axis.low) / panel->axis.step);
  for (int i = 0; i <= steps; i++) {
    const double value = panel->axis.low + i * panel->axis.step;
    const double y = cw_panel_y(panel, value);
    char text[48];
    cw_canvas_line(canvas, panel->left, y, panel->right, y, CW_HAIRLINE, CW_GRID_GREY);
    cw_format_fixed(text, sizeof text, value, panel->axis.digits);
    cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_RIGHT, text, 0, y - line / 2, panel->left - CW_LABEL_GAP * 2);
  }
  cw_canvas_line(canvas, panel->left, panel->top, panel->left, panel->bottom, 1, 0);
  cw_canvas_line(canvas, panel->left, panel->bottom, panel->right, panel->bottom, 1, 0);
  const double title_height = cw_canvas_line_height(canvas, CW_FACE_PANEL);
  cw_canvas_label(canvas, CW_FACE_PANEL, CW_TO_LEFT, title, panel->left, panel->top - title_height - CW_LEADING,
                  panel->right - panel->left);
}

void cw_panel_take(CwCanvas *canvas, const CwPen *pen)
{
  static const double dashes[][4] = {
      [CW_DASH_NONE] = {0},
      [CW_DASH_LONG] = {CW_DASH, CW_DASH_GAP},
      [CW_DASH_SHORT] = {CW_DASH / 2, CW_DASH_GAP / 2},
      [CW_DASH_DOT] = {CW_DASH / 4, CW_DASH_GAP},
      [CW_DASH_MIXED] = {CW_DASH, CW_DASH_GAP, CW_DASH / 4, CW_DASH_GAP},
  };
  static const int n[] = {
      [CW_DASH_NONE] = 0, [CW_DASH_LONG] = 2, [CW_DASH_SHORT] = 2, [CW_DASH_DOT] = 2, [CW_DASH_MIXED] = 4};
  cairo_set_source_rgb(canvas->cr, pen->grey, pen->grey, pen->grey);
  cairo_set_line_width(canvas->cr, pen->width);
  cairo_set_line_join(canvas->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_dash(canvas->cr, dashes[pen->dash], n[pen->dash], 0);
}

/// A path of `n` corners about a point, in parts of a mark's size.
static void corners(cairo_t *cr, double x, double y, const double (*corner)[2], size_t n)
{
  for (size_t i = 0; i < n; i++) {
    cairo_line_to(cr, x + CW_CHART_MARK * corner[i][0], y + CW_CHART_MARK * corner[i][1]);
  }
  cairo_close_path(cr);
}

static void mark_path(cairo_t *cr, double x, double y, CwMarkShape mark)
{
  static const double square[][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
  static const double triangle[][2] = {{0, -1.4}, {1.3, 1}, {-1.3, 1}};
  static const double diamond[][2] = {{0, -1.5}, {1.5, 0}, {0, 1.5}, {-1.5, 0}};
  const double arm = 1.2 * CW_CHART_MARK;
  switch (mark) {
  case CW_MARK_SQUARE:
    corners(cr, x, y, square, 4);
    break;
  case CW_MARK_TRIANGLE:
    corners(cr, x, y, triangle, 3);
    break;
  case CW_MARK_DIAMOND:
    corners(cr, x, y, diamond, 4);
    break;
  case CW_MARK_CROSS:
    cairo_move_to(cr, x - arm, y - arm);
    cairo_line_to(cr, x + arm, y + arm);
    cairo_move_to(cr, x - arm, y + arm);
    cairo_line_to(cr, x + arm, y - arm);
    break;
  case CW_MARK_RING:
  case CW_MARK_DISC:
    cairo_arc(cr, x, y, CW_CHART_MARK, 0, 2 * acos(-1.0));
    break;
  }
}

void cw_panel_mark(CwCanvas *canvas, double x, double y, const CwPen *pen)
{
  cairo_t *cr = canvas->cr;
  const bool open = pen->mark == CW_MARK_RING || pen->mark == CW_MARK_DIAMOND || pen->mark == CW_MARK_CROSS;
  cairo_new_path(cr);
  cairo_set_dash(cr, NULL, 0, 0);
  mark_path(cr, x, y, pen->mark);
  cairo_set_source_rgb(cr, pen->grey, pen->grey, pen->grey);
  if (!open) {
    cairo_fill(cr);
    return;
  }
  if (pen->mark != CW_MARK_CROSS) {
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_fill_preserve(cr);
  }
  cairo_set_source_rgb(cr, pen->grey, pen->grey, pen->grey);
  cairo_set_line_width(cr, 1.2);
  cairo_stroke(cr);
}

/// Whether marks have room; a value alone between gaps is marked in any case, or it would not be seen.
static bool is_marked(const CwPanel *panel, const double *value, size_t i, bool lone_only)
{
  if (!isfinite(value[i])) {
    return false;
  }
  const bool lone = (i == 0 || !isfinite(value[i - 1])) && (i + 1 == panel->n || !isfinite(value[i + 1]));
  const bool room = (panel->right - panel->left) / (double)panel->n >= CW_CHART_MARK_ROOM;
  return lone_only ? lone || room : room;
}

void cw_panel_steps(const CwPanel *panel, const double *value, const CwPen *pen)
{
  cairo_t *cr = panel->canvas->cr;
  cairo_new_path(cr);
  for (size_t i = 0; i < panel->n; i++) {
    if (isfinite(value[i])) {
      const double x = cw_panel_x(panel, (double)i);
      const double y = cw_panel_y(panel, value[i]);
      if (i > 0 && isfinite(value[i - 1])) {
        cairo_line_to(cr, x, y);
      } else {
        cairo_move_to(cr, x, y);
      }
      cairo_line_to(cr, cw_panel_x(panel, (double)i + 1), y);
    }
  }
  cw_panel_take(panel->canvas, pen);
  cairo_stroke(cr);
  for (size_t i = 0; i < panel->n; i++) {
    if (is_marked(panel, value, i, false)) {
      cw_panel_mark(panel->canvas, cw_panel_x(panel, (double)i + 0.5), cw_panel_y(panel, value[i]), pen);
    }
  }
}

void cw_panel_points(const CwPanel *panel, const double *value, double part, const CwPen *pen)
{
  cairo_t *cr = panel->canvas->cr;
  cairo_new_path(cr);
  for (size_t i = 0; i < panel->n; i++) {
    if (isfinite(value[i])) {
      const double x = cw_panel_x(panel, (double)i + part);
      if (i > 0 && isfinite(value[i - 1])) {
        cairo_line_to(cr, x, cw_panel_y(panel, value[i]));
      } else {
        cairo_move_to(cr, x, cw_panel_y(panel, value[i]));
      }
    }
  }
  cw_panel_take(panel->canvas, pen);
  cairo_stroke(cr);
  for (size_t i = 0; i < panel->n; i++) {
    if (is_marked(panel, value, i, true)) {
      cw_panel_mark(panel->canvas, cw_panel_x(panel, (double)i + part), cw_panel_y(panel, value[i]), pen);
    }
  }
}

void cw_panel_band(const CwPanel *panel, const double *low, const double *high)
{
  cairo_t *cr = panel->canvas->cr;
  cairo_new_path(cr);
  for (size_t i = 0; i < panel->n; i++) {
    if (isfinite(low[i]) && isfinite(high[i])) {
      const double x = cw_panel_x(panel, (double)i);
      const double top = cw_panel_y(panel, high[i]);
      cairo_rectangle(cr, x, top, cw_panel_x(panel, (double)i + 1) - x, cw_panel_y(panel, low[i]) - top);
    }
  }
  cairo_set_source_rgb(cr, CW_CHART_BAND_GREY, CW_CHART_BAND_GREY, CW_CHART_BAND_GREY);
  cairo_fill(cr); // at once: boxes side by side would show their seams
}
