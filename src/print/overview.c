// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/overview.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/time_text.h"
#include "print/clean.h"
#include "print/words.h"

/// The strip: `end_s` seconds across the width of the page.
typedef struct {
  CwPress *press;
  double end_s;
  double y;
} Strip;

static double x_of(const Strip *strip, double time_s)
{
  const CwPress *press = strip->press;
  return press->left + (press->right - press->left) * fmin(fmax(time_s / strip->end_s, 0), 1);
}

static size_t count_timed(const CwSheet *sheet, double *end_s)
{
  size_t n = 0;
  *end_s = sheet->duration_s > 0 ? sheet->duration_s : 0;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (sheet->row[i].timed) {
      n++;
      *end_s = fmax(*end_s, sheet->row[i].end_s);
    }
  }
  return n;
}

/// A phrase's box, every second one grey, with its number where there is room.
static void put_box(const Strip *strip, const CwSheetRow *row)
{
  CwCanvas *canvas = &strip->press->canvas;
  const double x = x_of(strip, row->start_s);
  const double width = x_of(strip, row->end_s) - x;
  if (row->number % 2) {
    cw_canvas_fill(canvas, x, strip->y, width, CW_STRIP_HEIGHT, CW_STRIP_GREY);
  }
  cw_canvas_line(canvas, x, strip->y, x + width, strip->y, CW_HAIRLINE, 0);
  cw_canvas_line(canvas, x, strip->y + CW_STRIP_HEIGHT, x + width, strip->y + CW_STRIP_HEIGHT, CW_HAIRLINE, 0);
  if (width > 2) {
    cw_canvas_line(canvas, x, strip->y, x, strip->y + CW_STRIP_HEIGHT, CW_HAIRLINE, 0);
    cw_canvas_line(canvas, x + width, strip->y, x + width, strip->y + CW_STRIP_HEIGHT, CW_HAIRLINE, 0);
  }
  char number[CW_WORD_ROOM];
  snprintf(number, sizeof number, "%u", row->number);
  if (cw_canvas_width(canvas, CW_FACE_STRIP, number) + CW_LABEL_GAP < width) {
    const double line = cw_canvas_line_height(canvas, CW_FACE_STRIP);
    cw_canvas_label(canvas, CW_FACE_STRIP, CW_TO_MIDDLE, number, x, strip->y + (CW_STRIP_HEIGHT - line) / 2, width);
  }
}

/// A thick bar at the foot of a doubtful phrase's box.
static void put_doubt(const Strip *strip, const CwSheetRow *row)
{
  const double x = x_of(strip, row->start_s);
  const double width = fmax(x_of(strip, row->end_s) - x, CW_HAIRLINE);
  cw_canvas_fill(&strip->press->canvas, x, strip->y + CW_STRIP_HEIGHT - CW_STRIP_DOUBT, width, CW_STRIP_DOUBT, 0);
}

/// A triangle under the strip where someone comes on.
static void put_entrance(const Strip *strip, double time_s)
{
  CwCanvas *canvas = &strip->press->canvas;
  const double x = x_of(strip, time_s);
  const double y = strip->y + CW_STRIP_HEIGHT;
  if (canvas->dry) {
    return;
  }
  cairo_set_source_rgb(canvas->cr, 0, 0, 0);
  cairo_new_path(canvas->cr);
  cairo_move_to(canvas->cr, x, y + 0.5);
  cairo_line_to(canvas->cr, x + CW_STRIP_ENTRANCE, y + CW_STRIP_ENTRANCE / 2 + 0.5);
  cairo_line_to(canvas->cr, x, y + CW_STRIP_ENTRANCE + 0.5);
  cairo_close_path(canvas->cr);
  cairo_fill(canvas->cr);
}

/// Whether a stretch on stage begins with an entrance on the strip.
static bool is_entrance(const CwCastRole *role, size_t i)
{
  return role->stay[i].on && i > 0 && isfinite(role->stay[i].start_s);
}

static bool has_entrances(const CwSheet *sheet)
{
  for (size_t r = 0; r < sheet->cast.n_roles; r++) {
    for (size_t i = 0; i < sheet->cast.role[r].n_stays; i++) {
      if (is_entrance(&sheet->cast.role[r], i)) {
        return true;
      }
    }
  }
  return false;
}

static void put_entrances(const Strip *strip)
{
  const CwCast *cast = &strip->press->sheet->cast;
  for (size_t r = 0; r < cast->n_roles; r++) {
    for (size_t i = 0; i < cast->role[r].n_stays; i++) {
      if (is_entrance(&cast->role[r], i)) {
        put_entrance(strip, cast->role[r].stay[i].start_s);
      }
    }
  }
}

/// Time at which the next section after row `i` begins, or the end.
static double next_section(const CwSheet *sheet, size_t i, double end_s)
{
  for (size_t k = i + 1; k < sheet->n_rows; k++) {
    if (sheet->row[k].section && sheet->row[k].timed) {
      return sheet->row[k].start_s;
    }
  }
  return end_s;
}

/// Height of the headings above the strip; scripts differ in it.
static double heading_height(CwPress *press)
{
  double height = cw_canvas_line_height(&press->canvas, CW_FACE_STRIP);
  for (size_t i = 0; i < press->sheet->n_rows; i++) {
    char *clean = press->sheet->row[i].section ? cw_clean_line(press->sheet->row[i].section) : NULL;
    height = clean ? fmax(height, cw_canvas_set(&press->canvas, CW_FACE_STRIP, clean, -1).height) : height;
    free(clean);
  }
  return height;
}

/// The headings above the strip, each in its room.
static void put_sections(Strip *strip)
{
  const CwSheet *sheet = strip->press->sheet;
  CwCanvas *canvas = &strip->press->canvas;
  const double line = cw_canvas_line_height(canvas, CW_FACE_STRIP);
  for (size_t i = 0; i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    if (!row->section || !row->section[0] || !row->timed) {
      continue;
    }
    const double x = x_of(strip, row->start_s);
    const double room = x_of(strip, next_section(sheet, i, strip->end_s)) - x - 2 * CW_LABEL_GAP;
    cw_canvas_line(canvas, x, strip->y - line, x, strip->y, 1, 0);
    char *clean = cw_clean_line(row->section);
    if (!clean) {
      strip->press->status = CW_ERR_NO_MEM;
    } else if (room > 2 * line) {
      const double height = cw_canvas_set(canvas, CW_FACE_STRIP, clean, -1).height;
      cw_canvas_label(canvas, CW_FACE_STRIP, CW_TO_LEFT, clean, x + CW_LABEL_GAP, strip->y - height, room);
    }
    free(clean);
  }
}

static void put_time(const Strip *strip, double time_s)
{
  CwCanvas *canvas = &strip->press->canvas;
  const double lane = has_entrances(strip->press->sheet) ? CW_STRIP_LANE : 0;
  char text[24];
  cw_format_time(time_s, text);
  text[strlen(text) - 2] = '\0'; // whole seconds: no tenths
  const double x = x_of(strip, time_s);
  const double y = strip->y + CW_STRIP_HEIGHT + lane;
  const double room = strip->press->right - x - CW_LABEL_GAP;
  cw_canvas_line(canvas, x, y, x, y + CW_LEADING, CW_HAIRLINE, 0);
  if (cw_canvas_width(canvas, CW_FACE_STRIP, text) < room) {
    cw_canvas_label(canvas, CW_FACE_STRIP, CW_TO_LEFT, text, x + CW_LABEL_GAP, y + 1, room);
  }
}

/// Round times under the strip, far enough apart to be read.
static void put_times(const Strip *strip)
{
  static const unsigned step_s[] = {5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200};
  const double width = strip->press->right - strip->press->left;
  size_t i = 0;
  while (i + 1 < sizeof step_s / sizeof step_s[0] && width * step_s[i] < CW_STRIP_TIME_ROOM * strip->end_s) {
    i++;
  }
  const unsigned last = (unsigned)fmin(strip->end_s / step_s[i], width / CW_LEADING);
  for (unsigned k = 0; k <= last; k++) {
    put_time(strip, (double)k * step_s[i]);
  }
}

bool cw_overview_shows(const CwSheet *sheet)
{
  double end_s = 0;
  return count_timed(sheet, &end_s) >= 2 && end_s > 0;
}

size_t cw_overview_legend(const CwSheet *sheet, CwLegend legend[CW_OVERVIEW_LEGEND])
{
  size_t n = 0;
  bool doubt = false;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    doubt = doubt || (sheet->row[i].timed && sheet->row[i].check_by_ear);
  }
  if (doubt && cw_overview_shows(sheet)) {
    legend[n++] = (CwLegend){CW_SAY_DOUBT_SIGN, cw_label(sheet->labels, CW_SAY_DOUBT)};
  }
  if (has_entrances(sheet) && cw_overview_shows(sheet)) {
    legend[n++] = (CwLegend){CW_SAY_ENTRANCE_SIGN, cw_label(sheet->labels, CW_SAY_ENTRANCE)};
  }
  return n;
}

void cw_overview_set(CwPress *press)
{
  Strip strip = {.press = press};
  if (!cw_overview_shows(press->sheet)) {
    return;
  }
  count_timed(press->sheet, &strip.end_s);
  const double line = cw_canvas_line_height(&press->canvas, CW_FACE_STRIP);
  const double lane = has_entrances(press->sheet) ? CW_STRIP_LANE : 0;
  const double headings = heading_height(press);
  press->y += CW_LEADING;
  cw_press_need(press, headings + line + CW_STRIP_HEIGHT + lane + CW_LEADING);
  strip.y = press->y + headings + CW_LABEL_GAP;
  put_sections(&strip);
  for (size_t i = 0; i < press->sheet->n_rows; i++) {
    if (press->sheet->row[i].timed) {
      put_box(&strip, &press->sheet->row[i]);
    }
  }
  for (size_t i = 0; i < press->sheet->n_rows; i++) { // over the boxes, so that none hides one
    if (press->sheet->row[i].timed && press->sheet->row[i].check_by_ear) {
      put_doubt(&strip, &press->sheet->row[i]);
    }
  }
  put_entrances(&strip);
  put_times(&strip);
  press->y = strip.y + CW_STRIP_HEIGHT + lane + line + CW_LEADING;
}
