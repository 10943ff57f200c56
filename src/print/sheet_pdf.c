// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>

#include <cairo-pdf.h>

#include "base/memory.h"
#include "print/buffer.h"
#include "print/cast_words.h"
#include "print/clean.h"
#include "print/head_pdf.h"
#include "print/pdf_language.h"
#include "print/press.h"
#include "print/row_pdf.h"

/// The phrases of a sheet and how each is set.
typedef struct {
  CwRowLook look;
  CwRowPlan *plan; ///< as many as the sheet has rows
} Rows;

static CwStatus plan_rows(CwPress *press, Rows *rows)
{
  const CwSheet *sheet = press->sheet;
  rows->plan = cw_new(sheet->n_rows, sizeof *rows->plan);
  CwStatus status = rows->plan ? CW_OK : CW_ERR_NO_MEM;
  rows->look = cw_row_look(press);
  for (size_t i = 0; status == CW_OK && i < sheet->n_rows; i++) {
    status = cw_row_plan(press, &rows->look, i, &rows->plan[i]);
  }
  return status;
}

static void free_rows(const CwSheet *sheet, Rows *rows)
{
  for (size_t i = 0; rows->plan && i < sheet->n_rows; i++) {
    cw_cells_free(&rows->plan[i].cells);
  }
  free(rows->plan);
}

/// List a section in the reader's table of contents.
static void put_outline(CwPress *press, const char *heading)
{
  char *clean = cw_clean_line(heading);
  CwBuffer place = {0};
  const double scale = press->canvas.size.scale; // the outline knows the paper only
  cw_buffer_join(&place, "", "page=%u pos=[%u %u]", press->page, (unsigned)(press->left * scale),
                 (unsigned)(press->y * scale));
  if (clean && !place.failed) {
    cairo_pdf_surface_add_outline(press->canvas.surface, CAIRO_PDF_OUTLINE_ROOT, clean, place.text,
                                  CAIRO_PDF_OUTLINE_FLAG_OPEN);
  } else {
    press->status = CW_ERR_NO_MEM;
  }
  cw_buffer_free(&place);
  free(clean);
}

static void set_row(CwPress *press, const Rows *rows, size_t i)
{
  const CwSheetRow *row = &press->sheet->row[i];
  const CwRowPlan *plan = &rows->plan[i];
  const bool whole = plan->height <= cw_press_page_height(press);
  cw_press_need(press, whole ? plan->height : CW_ROW_START);
  if (!press->canvas.dry && press->canvas.kind == CW_CANVAS_PDF && row->section && row->section[0]) {
    put_outline(press, row->section);
  }
  if (whole && press->canvas.dry) {
    press->y += plan->height; // known; no need to set it again
  } else {
    press->endless = whole;
    cw_row_set(press, &rows->look, row, plan);
    press->endless = false;
  }
}

/// Times on and off stage, below the phrases.
static void set_cast(CwPress *press)
{
  const CwSheet *sheet = press->sheet;
  CwMessages lines = {0};
  if (!sheet->cast_shown || sheet->cast.n_roles == 0) {
    return;
  }
  const CwStatus status = cw_cast_lines(&sheet->cast, sheet->labels, &lines);
  press->status = status == CW_OK ? press->status : status;
  press->y += CW_SPACE;
  cw_press_need(press, CW_ROW_START); // the heading with what is below it
  cw_press_flow(press, CW_FACE_ALERT, cw_label(sheet->labels, CW_SAY_CAST), press->left, press->right - press->left);
  for (size_t i = 0; i < lines.n && press->status == CW_OK; i++) {
    const double indent = lines.text[i][0] == ' ' ? CW_SPACE : 0;
    cw_press_need(press, (indent > 0 ? 1 : 3) * cw_canvas_line_height(&press->canvas, CW_FACE_FACTS)); // no name alone
    cw_press_flow(press, CW_FACE_FACTS, lines.text[i] + strspn(lines.text[i], " "), press->left + indent,
                  press->right - press->left - indent);
  }
  cw_messages_free(&lines);
}

static void set_document(CwPress *press, const Rows *rows)
{
  cw_head_set(press);
  for (size_t i = 0; press->status == CW_OK && i < press->sheet->n_rows; i++) {
    set_row(press, rows, i);
  }
  set_cast(press);
  cw_legend_set(press);
  cw_press_finish_page(press);
}

/// Set it dry, to count the pages.
static CwStatus lay_out(CwPress *press, Rows *rows)
{
  free_rows(press->sheet, rows);
  *rows = (Rows){0};
  cw_press_rewind(press, true, 0);
  const CwStatus status = plan_rows(press, rows);
  if (status == CW_OK) {
    set_document(press, rows);
  }
  return status;
}

/// Where the last page would hold next to nothing, all is set a little smaller, if that saves the page.
static CwStatus save_page(CwPress *press, Rows *rows)
{
  const unsigned pages = press->page;
  if (pages == 1 || press->y - press->top > CW_NEXT_TO_NOTHING * cw_press_page_height(press)) {
    return CW_OK;
  }
  cw_press_rescale(press, CW_SQUEEZE);
  CwStatus status = lay_out(press, rows);
  if (status == CW_OK && press->page >= pages) {
    cw_press_rescale(press, 1);
    status = lay_out(press, rows);
  }
  return status;
}

static CwStatus print(CwPress *press)
{
  Rows rows = {0};
  CwStatus status = lay_out(press, &rows);
  status = status == CW_OK ? save_page(press, &rows) : status;
  if (status == CW_OK) {
    cw_press_rewind(press, false, press->page);
    set_document(press, &rows);
  }
  free_rows(press->sheet, &rows);
  return status;
}

static CwStatus print_pdf(const CwSheet *sheet, const CwPage *page, FILE *out)
{
  CwPress press;
  CwStatus status = cw_press_begin(&press, sheet, page, CW_CANVAS_PDF, out);
  status = status == CW_OK ? print(&press) : status;
  const CwStatus end = cw_press_end(&press);
  return status == CW_OK ? end : status;
}

/// The language of most of its words: that of the notes where it is known, else of the labels.
static const char *language_of(const CwSheet *sheet)
{
  const CwLanguage language = cw_language_find(sheet->language);
  return cw_language_tag(language == CW_N_LANGUAGES ? sheet->labels : language);
}

CwStatus cw_sheet_pdf(const CwSheet *sheet, const CwPage *page, FILE *out)
{
  char *pdf = NULL;
  size_t size = 0;
  FILE *memory = open_memstream(&pdf, &size);
  if (!memory) {
    return CW_ERR_NO_MEM;
  }
  CwStatus status = print_pdf(sheet, page, memory);
  if (fclose(memory) != 0 || status == CW_ERR_WRITE) {
    status = CW_ERR_NO_MEM; // memory is what it was written to
  }
  if (status == CW_OK) {
    status = cw_pdf_put_language(pdf, size, language_of(sheet), out);
  }
  free(pdf);
  if (status == CW_OK && (fflush(out) != 0 || ferror(out))) {
    status = CW_ERR_WRITE;
  }
  return status;
}

CwStatus cw_sheet_pictures(const CwSheet *sheet, const CwPage *page, CwChartFormat format, CwPageOpener open,
                           void *context)
{
  if (format == CW_CHART_PDF) {
    return CW_ERR_BAD_ARG;
  }
  CwPress press;
  CwStatus status = cw_press_begin(&press, sheet, page, format == CW_CHART_SVG ? CW_CANVAS_SVG : CW_CANVAS_PNG, NULL);
  press.open = open;
  press.context = context;
  status = status == CW_OK ? print(&press) : status;
  const CwStatus end = cw_press_end(&press);
  return status == CW_OK ? end : status;
}
