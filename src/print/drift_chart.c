// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/print.h"
#include "print/clean.h"
#include "print/drift_blocks.h"
#include "print/drift_lines.h"
#include "print/panel.h"
#include "print/words.h"

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
  const unsigned first = drift->row[0].number;
  const bool first_has_room = step - first % step >= (step + 1) / 2 || drift->n < step;
  for (size_t i = 0; i < drift->n; i++) {
    if (drift->row[i].number % step == 0 || (i == 0 && first_has_room)) {
      put_phrase_number(panel, i, drift->row[i].number);
    }
  }
  const double line = cw_canvas_line_height(canvas, CW_FACE_AXIS);
  cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_MIDDLE, CW_SAY_PHRASE, panel->left, panel->bottom + CW_LABEL_GAP + line,
                  panel->right - panel->left);
}

/// The letters of lines at their right ends, moved apart where they would overlap.
static void put_letters(const CwPanel *panel, const CwChartLines *lines, bool tempo)
{
  enum { MOST = CW_CHART_MOST_LINES + 2 };
  const double height = cw_canvas_line_height(panel->canvas, CW_FACE_AXIS);
  double y[MOST];
  size_t order[MOST];
  size_t n = 0;
  for (size_t k = 0; k < lines->n && n < MOST; k++) {
    const double value = cw_chart_line_last(lines, k, tempo);
    if (!isfinite(value) || !lines->line[k].letter[0]) {
      continue;
    }
    const double at = cw_panel_y(panel, value) - height / 2;
    size_t place = n++;
    for (; place > 0 && y[place - 1] > at; place--) {
      y[place] = y[place - 1];
      order[place] = order[place - 1];
    }
    y[place] = at;
    order[place] = k;
  }
  for (size_t i = 1; i < n; i++) {
    y[i] = fmax(y[i], y[i - 1] + 0.8 * height);
  }
  double limit = panel->bottom - 0.8 * height;
  for (size_t i = n; i-- > 0; limit = y[i] - 0.8 * height) {
    y[i] = fmin(y[i], limit);
    cw_canvas_label(panel->canvas, CW_FACE_AXIS, CW_TO_LEFT, lines->line[order[i]].letter, panel->right + CW_LABEL_GAP,
                    y[i], CW_CHART_RIGHT - CW_LABEL_GAP);
  }
}

static CwPanel panel_of(CwCanvas *canvas, const CwChartLines *lines, double top, double bottom, bool tempo)
{
  double low = tempo ? (double)INFINITY : 0;
  double high = tempo ? -(double)INFINITY : 0;
  cw_chart_lines_range(lines, tempo, &low, &high);
  return (CwPanel){canvas, CW_CHART_LEFT, CW_CHART_WIDTH - CW_CHART_RIGHT,   top,
                   bottom, lines->rows,   cw_axis(low, high, CW_CHART_TICKS)};
}

static void put_tempo(CwCanvas *canvas, const CwDriftTable *table, const CwChartLines *lines, double top, double bottom)
{
  const CwPanel panel = panel_of(canvas, lines, top, bottom, true);
  cw_panel_band(&panel, lines->tempo_low, lines->tempo_high);
  cw_panel_frame(&panel, CW_SAY_CHART_TEMPO);
  if (table->n == 1) {
    put_missing(&panel, &table->other[0].drift);
  }
  for (size_t k = 0; k < lines->n; k++) {
    if (table->n == 1 || k == 0) {
      cw_panel_steps(&panel, lines->line[k].tempo, &lines->line[k].pen);
    } else {
      cw_panel_points(&panel, lines->line[k].tempo, 0.5, &lines->line[k].pen);
    }
  }
  put_letters(&panel, lines, true);
}

static void put_ahead(CwCanvas *canvas, const CwDriftTable *table, const CwChartLines *lines, double top, double bottom)
{
  const CwPanel panel = panel_of(canvas, lines, top, bottom, false);
  cw_panel_band(&panel, lines->ahead_low, lines->ahead_high);
  cw_panel_frame(&panel, table->n > 1 ? CW_SAY_CHART_AHEAD_OF_MANY : CW_SAY_CHART_AHEAD);
  const double zero = cw_panel_y(&panel, 0);
  cw_canvas_line(canvas, panel.left, zero, panel.right, zero, 1, 0);
  if (table->n == 1) {
    put_missing(&panel, &table->other[0].drift);
  }
  for (size_t k = 1; k < lines->n; k++) {
    if (lines->line[k].ahead) {
      cw_panel_points(&panel, lines->line[k].ahead, 0, &lines->line[k].pen);
    }
  }
  put_letters(&panel, lines, false);
  put_phrase_numbers(&panel, &table->other[0].drift);
}

/// Which line is which recording, in two columns where there are many.
static double put_keys(CwCanvas *canvas, const CwChartLines *lines, double y)
{
  const double height = cw_canvas_line_height(canvas, CW_FACE_AXIS);
  const size_t columns = lines->n > 3 ? CW_KEY_COLUMNS : 1;
  const double width = (CW_CHART_WIDTH - CW_CHART_LEFT - CW_CHART_RIGHT) / (double)columns;
  for (size_t k = 0; k < lines->n; k++) {
    const double x = CW_CHART_LEFT + width * (double)(k % columns);
    const double top = y + (height + CW_LEADING) * (double)(k / columns);
    const CwPen *pen = &lines->line[k].pen;
    cw_panel_take(canvas, pen);
    cairo_new_path(canvas->cr);
    cairo_move_to(canvas->cr, x, top + height / 2);
    cairo_line_to(canvas->cr, x + CW_KEY_WIDTH, top + height / 2);
    cairo_stroke(canvas->cr);
    cw_panel_mark(canvas, x + CW_KEY_WIDTH / 2, top + height / 2, pen);
    cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_LEFT, lines->line[k].name, x + CW_KEY_WIDTH + CW_GUTTER, top,
                    width - CW_KEY_WIDTH - 2 * CW_GUTTER);
  }
  return y + (height + CW_LEADING) * (double)((lines->n + columns - 1) / columns);
}

/// The band's meaning, and that nothing is smoothed.
static double put_remarks(CwCanvas *canvas, const CwDriftTable *table, double y)
{
  const double height = cw_canvas_line_height(canvas, CW_FACE_AXIS);
  const bool many = table->n > CW_CHART_MOST_LINES;
  const double text = CW_CHART_LEFT + CW_KEY_WIDTH + CW_GUTTER;
  const double width = CW_CHART_WIDTH - CW_CHART_RIGHT - text;
  cw_canvas_fill(canvas, CW_CHART_LEFT, y + 1, CW_KEY_WIDTH, height - 2, CW_CHART_BAND_GREY);
  cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_LEFT, many ? CW_SAY_CHART_RANGE : CW_SAY_CHART_SAME, text, y, width);
  cw_canvas_label(canvas, CW_FACE_AXIS, CW_TO_RIGHT, CW_SAY_CHART_SMOOTH, text, y, width);
  return y + height;
}

static void put_chart(CwCanvas *canvas, const CwDriftTable *table, const CwChartLines *lines)
{
  cw_canvas_fill(canvas, 0, 0, CW_CHART_WIDTH, CW_CHART_HEIGHT, 1);
  const double width = CW_CHART_WIDTH - CW_CHART_LEFT - CW_CHART_RIGHT;
  double y = CW_SPACE;
  y += cw_canvas_label(canvas, CW_FACE_SECTION, CW_TO_LEFT, cw_drift_title(table), CW_CHART_LEFT, y, width);
  y = put_keys(canvas, lines, y + CW_LEADING);
  if (lines->rows == 0) {
    cw_canvas_label(canvas, CW_FACE_STEP, CW_TO_LEFT, CW_SAY_NO_PHRASES, CW_CHART_LEFT, y + CW_SPACE, width);
    return;
  }
  y = put_remarks(canvas, table, y);
  const double title = cw_canvas_line_height(canvas, CW_FACE_PANEL) + CW_LEADING + CW_SPACE;
  const double foot = 2 * cw_canvas_line_height(canvas, CW_FACE_AXIS) + CW_SPACE;
  const double room = CW_CHART_HEIGHT - foot - y - 2 * title;
  const double upper = y + title;
  const double lower = CW_CHART_HEIGHT - foot - room * CW_CHART_LOWER_PART;
  put_tempo(canvas, table, lines, upper, lower - title);
  put_ahead(canvas, table, lines, lower, CW_CHART_HEIGHT - foot);
}

CwStatus cw_drift_chart(const CwDriftTable *table, CwChartFormat format, FILE *out)
{
  static const CwCanvasKind kind[] = {
      [CW_CHART_SVG] = CW_CANVAS_SVG, [CW_CHART_PDF] = CW_CANVAS_PDF, [CW_CHART_PNG] = CW_CANVAS_PNG};
  CwChartLines lines;
  CwStatus status = cw_chart_lines_make(table, &lines);
  if (status == CW_OK) {
    CwCanvas canvas;
    status = cw_canvas_begin(&canvas, kind[format], (CwCanvasSize){CW_CHART_WIDTH, CW_CHART_HEIGHT, 1, CW_CHART_PIXELS},
                             NULL, out);
    if (status == CW_OK) {
      cw_canvas_describe(&canvas, cw_drift_title(table));
      put_chart(&canvas, table, &lines);
    }
    const CwStatus end = cw_canvas_end(&canvas);
    status = status == CW_OK ? end : status;
  }
  cw_chart_lines_free(&lines);
  return status;
}
