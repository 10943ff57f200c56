// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/head_pdf.h"

#include <math.h>
#include <stdlib.h>

#include "print/clean.h"
#include "print/overview.h"
#include "print/stage_pdf.h"
#include "print/words.h"

/// A paragraph over the whole width.
static void put_text(CwPress *press, CwFace face, const char *text)
{
  cw_press_flow(press, face, text, press->left, press->right - press->left);
}

static void put_title(CwPress *press)
{
  const CwSheet *sheet = press->sheet;
  char *title =
      cw_clean_line(sheet->piece && sheet->piece[0] ? sheet->piece : cw_label(sheet->labels, CW_SAY_UNTITLED));
  if (title) {
    put_text(press, CW_FACE_TITLE, title);
  } else {
    press->status = CW_ERR_NO_MEM;
  }
  free(title);
}

static void put_facts(CwPress *press)
{
  static const struct {
    void (*put)(const CwSheet *, CwBuffer *);
    CwFace face;
  } fact[] = {{cw_put_subtitle, CW_FACE_SUBTITLE},
              {cw_put_music_facts, CW_FACE_FACTS},
              {cw_put_tempo_facts, CW_FACE_FACTS},
              {cw_put_other_fact, CW_FACE_FACTS}};
  CwBuffer line = {0};
  for (size_t i = 0; i < sizeof fact / sizeof fact[0]; i++) {
    fact[i].put(press->sheet, &line);
    if (line.length) {
      put_text(press, fact[i].face, line.text);
      press->y += CW_LEADING;
    }
    cw_buffer_clear(&line);
  }
  press->status = line.failed ? CW_ERR_NO_MEM : press->status;
  cw_buffer_free(&line);
}

/// What does not add up, beside a thick line.
static void put_messages(CwPress *press)
{
  const CwMessages *messages = &press->sheet->message;
  if (messages->n == 0) {
    return;
  }
  press->y += CW_LEADING;
  put_text(press, CW_FACE_ALERT, cw_label(press->sheet->labels, CW_SAY_DOES_NOT_ADD_UP));
  for (size_t i = 0; i < messages->n; i++) {
    char *clean = cw_clean_line(messages->text[i]);
    if (!clean) {
      press->status = CW_ERR_NO_MEM;
    } else if (*clean) {
      cw_press_need(press, cw_canvas_line_height(&press->canvas, CW_FACE_FACTS));
      cw_canvas_label(&press->canvas, CW_FACE_ALERT, CW_TO_LEFT, "!", press->left, press->y, CW_SPACE);
      cw_press_flow(press, CW_FACE_FACTS, clean, press->left + CW_SPACE, press->right - press->left - CW_SPACE);
    }
    free(clean);
  }
  press->y += CW_LEADING;
}

void cw_head_set(CwPress *press)
{
  put_title(press);
  put_facts(press);
  put_messages(press);
  cw_overview_set(press);
  press->y += CW_SPACE;
  if (press->sheet->n_rows == 0) {
    put_text(press, CW_FACE_STEP, cw_label(press->sheet->labels, CW_SAY_NO_PHRASES));
  }
}

/// Room for the signs of a column: of the widest, but a sign that would take too much of it has a line to itself.
static double sign_room(CwCanvas *canvas, const CwLegend *legend, size_t n, double width)
{
  double room = 0;
  for (size_t i = 0; i < n; i++) {
    const double sign = cw_canvas_width(canvas, CW_FACE_SIGN, legend[i].sign) + CW_GUTTER;
    room = sign <= width * CW_LEGEND_SIGN_PART ? fmax(room, sign) : room;
  }
  return room;
}

/// Lines of the legend, one under another.
static void put_legend_column(CwPress *press, const CwLegend *legend, size_t n, double x, double width)
{
  CwCanvas *canvas = &press->canvas;
  const double indent = sign_room(canvas, legend, n, width);
  for (size_t i = 0; i < n; i++) {
    cw_press_need(press, 2 * cw_canvas_line_height(canvas, CW_FACE_LEGEND)); // a sign and its words stay together
    if (cw_canvas_width(canvas, CW_FACE_SIGN, legend[i].sign) > indent) {
      cw_press_flow(press, CW_FACE_SIGN, legend[i].sign, x, width);
    } else {
      cw_canvas_label(canvas, CW_FACE_SIGN, CW_TO_LEFT, legend[i].sign, x, press->y, indent);
    }
    cw_press_flow(press, CW_FACE_LEGEND, legend[i].words, x + indent, width - indent);
  }
}

/// In two columns where they have room, from the press's place down.
static void put_legend(CwPress *press, const CwLegend *legend, size_t n)
{
  const double whole = press->right - press->left;
  const double width = (whole - 2 * CW_GUTTER) / 2;
  const size_t half = n - n / 2;
  cw_canvas_line(&press->canvas, press->left, press->y, press->right, press->y, CW_HAIRLINE, CW_RULE_GREY);
  press->y += CW_SPACE;
  put_text(press, CW_FACE_SIGN, cw_label(press->sheet->labels, CW_SAY_LEGEND));
  press->y += 1;
  if (width < CW_LEGEND_NARROWEST) {
    put_legend_column(press, legend, n, press->left, whole);
    return;
  }
  const double y = press->y;
  put_legend_column(press, legend, half, press->left, width);
  const double end = press->y;
  press->y = y;
  put_legend_column(press, legend + half, n - half, press->right - width, width);
  press->y = fmax(press->y, end);
}

void cw_legend_set(CwPress *press)
{
  CwLegend legend[CW_LEGEND_ROOM + CW_OVERVIEW_LEGEND + 1];
  size_t n = cw_legend(press->sheet, press->repeats, legend);
  n += cw_overview_legend(press->sheet, legend + n);
  if (cw_stage_plans_any(press)) {
    legend[n++] = (CwLegend){CW_SAY_PLAN_SIGN, cw_label(press->sheet->labels, CW_SAY_PLAN)};
  }
  if (n == 0) {
    return;
  }
  // measured first, so that it stays together
  const bool dry = press->canvas.dry;
  const double y = press->y;
  press->canvas.dry = true;
  press->endless = true;
  put_legend(press, legend, n);
  const double height = press->y - y;
  press->y = y;
  press->canvas.dry = dry;
  press->endless = false;
  if (height <= cw_press_page_height(press)) {
    cw_press_need(press, height);
  }
  put_legend(press, legend, n);
}
