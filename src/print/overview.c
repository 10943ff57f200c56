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
      cw_canvas_label(canvas, CW_FACE_STRIP, CW_TO_LEFT, clean, x + CW_LABEL_GAP, strip->y - line, room);
    }
    free(clean);
  }
}

static void put_time(const Strip *strip, double time_s)
{
  CwCanvas *canvas = &strip->press->canvas;
  char text[24];
  cw_format_time(time_s, text);
  text[strlen(text) - 2] = '\0'; // whole seconds: no tenths
  const double x = x_of(strip, time_s);
  const double y = strip->y + CW_STRIP_HEIGHT;
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

void cw_overview_set(CwPress *press)
{
  Strip strip = {.press = press};
  if (count_timed(press->sheet, &strip.end_s) < 2 || !(strip.end_s > 0)) {
    return;
  }
  const double line = cw_canvas_line_height(&press->canvas, CW_FACE_STRIP);
  press->y += CW_LEADING;
  cw_press_need(press, 2 * line + CW_STRIP_HEIGHT + CW_LEADING);
  strip.y = press->y + line + CW_LABEL_GAP;
  put_sections(&strip);
  for (size_t i = 0; i < press->sheet->n_rows; i++) {
    if (press->sheet->row[i].timed) {
      put_box(&strip, &press->sheet->row[i]);
    }
  }
  put_times(&strip);
  press->y = strip.y + CW_STRIP_HEIGHT + line + CW_LEADING;
}
