// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/hold_pdf.h"

#include <math.h>

#include "print/words.h"

/// The sign of a hold as musicians write it: an arc over a dot.
static void put_fermata(CwCanvas *canvas, double x, double y)
{
  if (!canvas->dry) {
    cairo_set_source_rgb(canvas->cr, 0, 0, 0);
    cairo_set_line_width(canvas->cr, 1.4);
    cairo_new_path(canvas->cr);
    cairo_arc(canvas->cr, x, y, 6.5, acos(-1.0), 0);
    cairo_stroke(canvas->cr);
    cairo_arc(canvas->cr, x, y - 1.5, 1.5, 0, 2 * acos(-1.0));
    cairo_fill(canvas->cr);
  }
}

void cw_hold_set(CwPress *press, const CwSheetRow *row, double text_column, double width)
{
  CwCanvas *canvas = &press->canvas;
  char words[CW_WORD_ROOM];
  cw_hold_label(press->sheet->labels, row, words);
  press->y += CW_ROW_PAD;
  cw_press_need(press, CW_HOLD_HEIGHT);
  const double y = press->y;
  const double middle = y + CW_HOLD_HEIGHT / 2;
  const double text_x = text_column + 2 * CW_GUTTER;
  const double text_end = text_x + cw_canvas_width(canvas, CW_FACE_HOLD, words) + CW_GUTTER;
  if (!canvas->dry) {
    cairo_save(canvas->cr);
    cairo_rectangle(canvas->cr, press->left, y, text_column - CW_GUTTER - press->left, CW_HOLD_HEIGHT);
    cairo_rectangle(canvas->cr, text_end, y, press->right - text_end, CW_HOLD_HEIGHT);
    cairo_clip(canvas->cr);
    const int lines = (int)((press->right - press->left + CW_HOLD_HEIGHT) / CW_HATCH);
    for (int i = 0; i <= lines; i++) {
      const double x = press->left + i * CW_HATCH;
      cw_canvas_line(canvas, x, y, x - CW_HOLD_HEIGHT, y + CW_HOLD_HEIGHT, CW_HAIRLINE, 0);
    }
    cairo_restore(canvas->cr);
  }
  put_fermata(canvas, text_column + CW_GUTTER / 2, middle + 3);
  const double line = cw_canvas_line_height(canvas, CW_FACE_HOLD);
  cw_canvas_label(canvas, CW_FACE_HOLD, CW_TO_LEFT, words, text_x, middle - line / 2, width);
  press->y = y + CW_HOLD_HEIGHT;
}
