// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/press.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/buffer.h"
#include "print/clean.h"
#include "print/stage_pdf.h"
#include "print/words.h"

/// The sheet's name: piece, dance, role. @return Release with free(); NULL when memory ran out.
static char *name_of(const CwSheet *sheet)
{
  CwBuffer name = {0};
  char *piece =
      cw_clean_line(sheet->piece && sheet->piece[0] ? sheet->piece : cw_label(sheet->labels, CW_SAY_UNTITLED));
  name.failed = !piece;
  cw_buffer_put(&name, piece ? piece : "");
  free(piece);
  cw_put_subtitle(sheet, &name);
  if (name.failed) {
    cw_buffer_free(&name);
  }
  return name.text;
}

/// The paper, turned and enlarged as asked for.
static CwCanvasSize size_of(const CwPage *page)
{
  static const double paper[][2] = {[CW_PAPER_A4] = {CW_A4_WIDTH, CW_A4_HEIGHT},
                                    [CW_PAPER_LETTER] = {CW_LETTER_WIDTH, CW_LETTER_HEIGHT},
                                    [CW_PAPER_A5] = {CW_A5_WIDTH, CW_A5_HEIGHT}};
  const double *side = paper[page->paper];
  return (CwCanvasSize){side[page->landscape], side[!page->landscape], page->big ? CW_BIG : 1, CW_PAGE_PIXELS};
}

void cw_press_rescale(CwPress *press, double times)
{
  const CwCanvasSize size = size_of(&press->paper);
  const double scale = size.scale * times;
  const double margin = (press->paper.paper == CW_PAPER_A5 ? CW_SMALL_MARGIN : CW_MARGIN) / scale;
  cw_canvas_rescale(&press->canvas, scale);
  press->left = margin;
  press->right = size.width / scale - margin;
  press->top = margin;
  press->bottom = size.height / scale - margin - CW_FOOT_HEIGHT;
}

CwStatus cw_press_begin(CwPress *press, const CwSheet *sheet, const CwPage *page, CwCanvasKind kind, FILE *out)
{
  const CwCanvasSize size = size_of(page);
  memset(press, 0, sizeof *press);
  press->sheet = sheet;
  press->paper = *page;
  press->running_head = name_of(sheet);
  press->foot = cw_clean_line(sheet->recording);
  press->repeats = cw_repeats_find(sheet);
  press->plans = cw_stage_plans_make(sheet);
  press->status = press->running_head && press->foot && press->repeats && press->plans ? CW_OK : CW_ERR_NO_MEM;
  const CwStatus status = cw_canvas_begin(&press->canvas, kind, size, sheet->language, out);
  cw_press_rescale(press, 1);
  if (press->status == CW_OK && status == CW_OK) {
    cw_canvas_describe(&press->canvas, press->running_head);
  }
  return press->status == CW_OK ? status : press->status;
}

CwStatus cw_press_end(CwPress *press)
{
  const CwStatus status = cw_canvas_end(&press->canvas);
  free(press->running_head);
  free(press->foot);
  free(press->repeats);
  cw_stage_plans_free(press->plans, press->sheet->n_rows);
  return press->status == CW_OK ? status : press->status;
}

/// Ask for the stream of the page that comes next; without one, nothing more is drawn.
static FILE *open_page(CwPress *press)
{
  FILE *out = NULL;
  if (press->open && !press->canvas.dry) {
    const CwStatus status = press->open(press->context, press->page, press->pages, &out);
    if (status != CW_OK) {
      press->status = press->status == CW_OK ? status : press->status;
      press->canvas.dry = true;
    }
  }
  return out;
}

void cw_press_rewind(CwPress *press, bool dry, unsigned pages)
{
  press->canvas.dry = dry;
  press->pages = pages;
  press->page = 1;
  press->y = press->top;
  if (press->open && !dry) {
    press->canvas.out = open_page(press);
  }
}

double cw_press_page_height(CwPress *press)
{
  return press->bottom - press->top - cw_canvas_line_height(&press->canvas, CW_FACE_FOOT) - CW_LEADING;
}

void cw_press_finish_page(CwPress *press)
{
  CwCanvas *canvas = &press->canvas;
  if (canvas->dry) {
    return;
  }
  char number[CW_WORD_ROOM];
  snprintf(number, sizeof number, "%u / %u", press->page, press->pages);
  const double width = press->right - press->left;
  const double y = press->bottom + CW_FOOT_HEIGHT - cw_canvas_line_height(canvas, CW_FACE_FOOT);
  const double number_width = cw_canvas_width(canvas, CW_FACE_FOOT, number) + CW_SPACE;
  cw_canvas_label(canvas, CW_FACE_FOOT, CW_TO_LEFT, press->foot, press->left, y, width - number_width);
  cw_canvas_label(canvas, CW_FACE_FOOT, CW_TO_RIGHT, number, press->left, y, width);
}

/// What stands at the top of every page but the first.
static void head_page(CwPress *press)
{
  CwCanvas *canvas = &press->canvas;
  const double width = press->right - press->left;
  press->y += cw_canvas_label(canvas, CW_FACE_FOOT, CW_TO_LEFT, press->running_head, press->left, press->y, width);
  press->y += CW_LEADING;
  if (press->inside) {
    char words[CW_WORD_ROOM];
    snprintf(words, sizeof words, cw_label(press->sheet->labels, CW_SAY_CONTINUED), press->inside);
    press->y += cw_canvas_label(canvas, CW_FACE_TAG, CW_TO_LEFT, words, press->left, press->y, width) + CW_LEADING;
  }
}

void cw_press_need(CwPress *press, double height)
{
  if (press->endless || press->y + height <= press->bottom) {
    return;
  }
  cw_press_finish_page(press);
  press->page++;
  FILE *out = open_page(press);
  if (!press->canvas.dry) {
    const CwStatus status = cw_canvas_turn(&press->canvas, out);
    press->status = press->status == CW_OK ? status : press->status;
  }
  press->y = press->top;
  head_page(press);
}

void cw_press_flow(CwPress *press, CwFace face, const char *text, double x, double width)
{
  // a layout of its own, because turning the page sets other text
  PangoLayout *layout = cw_canvas_layout(&press->canvas, face, text, width);
  PangoLayoutIter *line = pango_layout_get_iter(layout);
  do {
    PangoRectangle logical;
    pango_layout_iter_get_line_extents(line, NULL, &logical);
    const double height = (double)logical.height / PANGO_SCALE;
    cw_press_need(press, height);
    if (!press->canvas.dry) {
      const double baseline = (double)(pango_layout_iter_get_baseline(line) - logical.y) / PANGO_SCALE;
      cw_canvas_ink(&press->canvas, face);
      cairo_move_to(press->canvas.cr, x + (double)logical.x / PANGO_SCALE, press->y + baseline);
      pango_cairo_show_layout_line(press->canvas.cr, pango_layout_iter_get_line_readonly(line));
    }
    press->y += height;
  } while (pango_layout_iter_next_line(line));
  pango_layout_iter_free(line);
  g_object_unref(layout);
}
