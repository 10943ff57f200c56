// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/print.h"
#include "print/clean.h"
#include "print/panel.h"
#include "print/words.h"

/// Told apart by weight, dashes and marks, not by colour.
static const CwPen pen_a = {2.4, 0.55, false, false};
static const CwPen pen_b = {1.5, 0, true, true};
static const CwPen pen_ahead = {1.5, 0, false, true};

/// The values to draw, as lists.
typedef struct {
  const CwDrift *drift;
  double *a;
  double *b;
  double *ahead;
  CwBuffer a_name;
  CwBuffer b_name;
} Chart;

static void chart_free(Chart *chart)
{
  free(chart->a);
  free(chart->b);
  free(chart->ahead);
  cw_buffer_free(&chart->a_name);
  cw_buffer_free(&chart->b_name);
}

/// "A: name".
static void put_name(const char *letter, const char *name, CwBuffer *out)
{
  char *clean = cw_clean_line(name);
  cw_buffer_join(out, "", "%s: %s", letter, clean ? clean : "");
  out->failed = out->failed || !clean;
  free(clean);
}

static CwStatus chart_make(const CwDrift *drift, const CwDriftLabels *labels, Chart *chart)
{
  chart->drift = drift;
  chart->a = cw_new(drift->n, sizeof *chart->a);
  chart->b = cw_new(drift->n, sizeof *chart->b);
  chart->ahead = cw_new(drift->n, sizeof *chart->ahead);
  put_name("A", labels->a_name, &chart->a_name);
  put_name("B", labels->b_name, &chart->b_name);
  if (!chart->a || !chart->b || !chart->ahead || chart->a_name.failed || chart->b_name.failed) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < drift->n; i++) {
    chart->a[i] = drift->row[i].a_counts_per_min;
    chart->b[i] = drift->row[i].b_counts_per_min;
    chart->ahead[i] = drift->row[i].ahead_s;
  }
  return CW_OK;
}

/// Widen the range to hold the finite values.
static void include(const double *value, size_t n, double *low, double *high)
{
  for (size_t i = 0; i < n; i++) {
    if (isfinite(value[i])) {
      *low = fmin(*low, value[i]);
      *high = fmax(*high, value[i]);
    }
  }
}

/// Which line is which recording.
static double put_key(CwCanvas *canvas, const char *name, const CwPen *pen, double y)
{
  const double line = cw_canvas_line_height(canvas, CW_FACE_AXIS);
  const double x = CW_CHART_LEFT;
  const double middle = y + line / 2;
  cw_panel_take(canvas, pen);
  cairo_new_path(canvas->cr);
  cairo_move_to(canvas->cr, x, middle);
  cairo_line_to(canvas->cr, x + CW_KEY_WIDTH, middle);
  cairo_stroke(canvas->cr);
  cw_panel_mark(canvas, x + CW_KEY_WIDTH / 2, middle, pen);
  const double text = x + CW_KEY_WIDTH + CW_GUTTER;
  cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_LEFT, name, text, y, CW_CHART_WIDTH - CW_CHART_RIGHT - text);
  return y + line + CW_LEADING;
}

/// Where b lacks phrases: hatched, and told in words where there is room.
static void put_missing(const CwPanel *panel, const CwDrift *drift)
{
  CwCanvas *canvas = panel->canvas;
  for (size_t i = 0; i < drift->n; i++) {
    if (drift->row[i].present) {
      continue;
    }
    const size_t first = i;
    while (i + 1 < drift->n && !drift->row[i + 1].present) {
      i++;
    }
    const double x = cw_panel_x(panel, (double)first);
    const double width = cw_panel_x(panel, (double)i + 1) - x;
    const double height = panel->bottom - panel->top;
    cairo_save(canvas->cr);
    cairo_rectangle(canvas->cr, x, panel->top, width, height);
    cairo_clip(canvas->cr);
    const int lines = (int)((width + height) / (2 * CW_HATCH));
    for (int k = 0; k <= lines; k++) {
      const double at = x - height + 2 * CW_HATCH * k;
      cw_canvas_line(canvas, at, panel->bottom, at + height, panel->top, CW_HAIRLINE, CW_RULE_GREY);
    }
    cairo_restore(canvas->cr);
    const CwExtent words = cw_canvas_set(canvas, CW_FACE_AXIS, CW_SAY_NOT_IN_B, -1);
    if (words.width + 2 * CW_LABEL_GAP < width) {
      const double text_x = x + (width - words.width) / 2;
      cw_canvas_fill(canvas, text_x - CW_LABEL_GAP, panel->top, words.width + 2 * CW_LABEL_GAP, words.height, 1);
      cw_canvas_show(canvas, CW_FACE_AXIS, text_x, panel->top);
    }
  }
}

/// A phrase's number under it, and a tick at its one.
static void put_phrase_number(const CwPanel *panel, size_t i, unsigned number)
{
  char text[CW_WORD_ROOM];
  snprintf(text, sizeof text, "%u", number);
  const double x = cw_panel_x(panel, (double)i);
  const double middle = cw_panel_x(panel, (double)i + 0.5);
  const double width = cw_canvas_width(panel->canvas, CW_FACE_AXIS, text) + 1;
  cw_canvas_line(panel->canvas, x, panel->bottom, x, panel->bottom + CW_LEADING, 1, 0);
  cw_canvas_label(panel->canvas, CW_FACE_AXIS, CW_TO_MIDDLE, text, middle - width / 2, panel->bottom + CW_LABEL_GAP,
                  width);
}

/// Phrase numbers under the lower panel, as many as have room.
static void put_phrase_numbers(const CwPanel *panel, const CwDrift *drift)
{
  CwCanvas *canvas = panel->canvas;
  char text[CW_WORD_ROOM];
  snprintf(text, sizeof text, "%u", drift->row[drift->n - 1].number);
  const double widest = cw_canvas_width(canvas, CW_FACE_AXIS, text) + CW_SPACE;
  const double most = fmax((panel->right - panel->left) / widest, 1);
  const unsigned step = (unsigned)cw_axis_whole(0, (double)drift->n, (unsigned)most).step;
  const bool first_has_room = cw_panel_x(panel, step - 1.0) - panel->left >= widest || drift->n < step;
  for (size_t i = 0; i < drift->n; i++) {
    if (drift->row[i].number % step == 0 || (i == 0 && first_has_room)) {
      put_phrase_number(panel, i, drift->row[i].number);
    }
  }
  const double line = cw_canvas_line_height(canvas, CW_FACE_AXIS);
  cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_MIDDLE, CW_SAY_PHRASE, panel->left, panel->bottom + CW_LABEL_GAP + line,
                  panel->right - panel->left);
}

static CwPanel panel_of(CwCanvas *canvas, const Chart *chart, double top, double bottom, CwAxis axis)
{
  return (CwPanel){canvas, CW_CHART_LEFT, CW_CHART_WIDTH - CW_CHART_RIGHT, top, bottom, chart->drift->n, axis};
}

static void put_tempo(CwCanvas *canvas, const Chart *chart, double top, double bottom)
{
  double low = INFINITY;
  double high = -INFINITY;
  include(chart->a, chart->drift->n, &low, &high);
  include(chart->b, chart->drift->n, &low, &high);
  const CwPanel panel = panel_of(canvas, chart, top, bottom, cw_axis(low, high, CW_CHART_TICKS));
  cw_panel_frame(&panel, CW_SAY_CHART_TEMPO);
  put_missing(&panel, chart->drift);
  cw_panel_steps(&panel, chart->a, &pen_a);
  cw_panel_steps(&panel, chart->b, &pen_b);
}

static void put_ahead(CwCanvas *canvas, const Chart *chart, double top, double bottom)
{
  double low = 0;
  double high = 0;
  include(chart->ahead, chart->drift->n, &low, &high);
  const CwPanel panel = panel_of(canvas, chart, top, bottom, cw_axis(low, high, CW_CHART_TICKS));
  cw_panel_frame(&panel, CW_SAY_CHART_AHEAD);
  const double zero = cw_panel_y(&panel, 0);
  cw_canvas_line(canvas, panel.left, zero, panel.right, zero, 1, 0);
  put_missing(&panel, chart->drift);
  cw_panel_points(&panel, chart->ahead, &pen_ahead);
  put_phrase_numbers(&panel, chart->drift);
}

static void put_chart(CwCanvas *canvas, const Chart *chart)
{
  cw_canvas_fill(canvas, 0, 0, CW_CHART_WIDTH, CW_CHART_HEIGHT, 1);
  const double width = CW_CHART_WIDTH - CW_CHART_LEFT - CW_CHART_RIGHT;
  double y = CW_SPACE;
  y += cw_canvas_label(canvas, CW_FACE_SECTION, CW_TO_LEFT, CW_SAY_DRIFT, CW_CHART_LEFT, y, width) + CW_LEADING;
  y = put_key(canvas, cw_buffer_text(&chart->a_name), &pen_a, y);
  y = put_key(canvas, cw_buffer_text(&chart->b_name), &pen_b, y);
  if (chart->drift->n == 0) {
    cw_canvas_label(canvas, CW_FACE_STEP, CW_TO_LEFT, CW_SAY_NO_PHRASES, CW_CHART_LEFT, y + CW_SPACE, width);
    return;
  }
  const double title = cw_canvas_line_height(canvas, CW_FACE_PANEL) + CW_LEADING + CW_SPACE;
  const double foot = 2 * cw_canvas_line_height(canvas, CW_FACE_AXIS) + CW_SPACE;
  const double room = CW_CHART_HEIGHT - foot - y - 2 * title;
  const double upper = y + title;
  const double lower = CW_CHART_HEIGHT - foot - room * CW_CHART_LOWER_PART;
  put_tempo(canvas, chart, upper, lower - title);
  put_ahead(canvas, chart, lower, CW_CHART_HEIGHT - foot);
}

CwStatus cw_drift_chart(const CwDrift *drift, const CwDriftLabels *labels, CwChartFormat format, FILE *out)
{
  static const CwCanvasKind kind[] = {
      [CW_CHART_SVG] = CW_CANVAS_SVG, [CW_CHART_PDF] = CW_CANVAS_PDF, [CW_CHART_PNG] = CW_CANVAS_PNG};
  Chart chart = {0};
  CwStatus status = chart_make(drift, labels, &chart);
  if (status == CW_OK) {
    CwCanvas canvas;
    status = cw_canvas_begin(&canvas, kind[format], CW_CHART_WIDTH, CW_CHART_HEIGHT, NULL, out);
    if (status == CW_OK) {
      cw_canvas_describe(&canvas, CW_SAY_DRIFT);
      put_chart(&canvas, &chart);
    }
    const CwStatus end = cw_canvas_end(&canvas);
    status = status == CW_OK ? end : status;
  }
  chart_free(&chart);
  return status;
}
