// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/row_pdf.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "countwright/time_text.h"
#include "print/clean.h"
#include "print/drift_words.h"
#include "print/grid_pdf.h"
#include "print/hold_pdf.h"
#include "print/parts.h"
#include "print/stage_pdf.h"
#include "print/words.h"

/// Place of a phrase's steps, tags and remark.
typedef struct {
  double x;
  double width;
} Column;

static double column_start(const CwPress *press, const CwRowLook *look)
{
  return press->left + look->number_width + CW_GUTTER + (look->timed ? look->time_width + CW_GUTTER : 0);
}

/// Whether a plan stands beside the steps: there must be room left for them.
static bool is_plan_beside(const CwPress *press, const CwRowLook *look)
{
  return press->right - column_start(press, look) - CW_STAGE_WIDTH - CW_GUTTER >= CW_NARROWEST_COLUMN;
}

static Column text_column(const CwPress *press, const CwRowLook *look, const CwStagePlan *stage)
{
  const double x = column_start(press, look);
  return (Column){x, press->right - x - (is_plan_beside(press, look) ? cw_stage_plan_room(stage) : 0)};
}

/// "58/min".
static void tempo_of(const CwPress *press, const CwSheetRow *row, char out[CW_WORD_ROOM])
{
  char tempo[CW_WORD_ROOM];
  cw_tempo_label(row->counts_per_min, tempo);
  snprintf(out, CW_WORD_ROOM, "%.40s%.60s", tempo, cw_label(press->sheet->labels, CW_SAY_PER_MIN));
}

CwRowLook cw_row_look(CwPress *press)
{
  const CwSheet *sheet = press->sheet;
  CwRowLook look = {.timed = cw_sheet_is_timed(sheet), .write_in = CW_LEADING};
  if (cw_sheet_is_bare(sheet)) {
    look.write_in = CW_WRITE_IN;
  }
  for (size_t i = 0; i < sheet->n_rows; i++) {
    char number[CW_WORD_ROOM];
    snprintf(number, sizeof number, "%u", sheet->row[i].number);
    look.number_width = fmax(look.number_width, cw_canvas_width(&press->canvas, CW_FACE_NUMBER, number));
    if (sheet->row[i].timed) {
      char time[24];
      cw_format_time(sheet->row[i].start_s, time);
      look.time_width = fmax(look.time_width, cw_canvas_width(&press->canvas, CW_FACE_START, time));
      tempo_of(press, &sheet->row[i], number);
      look.time_width = fmax(look.time_width, cw_canvas_width(&press->canvas, CW_FACE_TEMPO, number));
      cw_change_label(sheet->row[i].change_percent, number);
      look.time_width = fmax(look.time_width, cw_canvas_width(&press->canvas, CW_FACE_TEMPO, number));
    }
  }
  return look;
}

static CwGrid grid_of(const CwRowLook *look, const CwSheetRow *row, const CwCells *cells, unsigned columns,
                      Column column)
{
  return (CwGrid){cells, row->counts, columns, column.x, column.width, look->write_in};
}

/// Counts side by side that show the steps best; 0 when only a list can.
static unsigned choose_columns(CwPress *press, const CwRowLook *look, const CwSheetRow *row, const CwCells *cells,
                               Column column)
{
  unsigned best = 0;
  double least = INFINITY;
  if (!cw_cells_fit_counts(cells, row->counts)) {
    return 0;
  }
  const bool dry = press->canvas.dry;
  press->canvas.dry = true; // other roles' steps are measured while the row is drawn
  for (unsigned columns = CW_COUNTS_PER_LINE; columns > 1; columns /= 2) { // one in a line would be a list
    const CwGrid grid = grid_of(look, row, cells, columns, column);
    double height = 0;
    if (cw_grid_set(&press->canvas, &grid, 0, &height) && height < least * CW_WORTH_SPLITTING) {
      best = columns;
      least = height;
    }
    const unsigned shorter = cw_counts_per_line(row->counts, columns / 2);
    if (least * CW_WORTH_SPLITTING <= CW_BAND_HEIGHT * row->counts / shorter) {
      break; // shorter lines are more lines, whose bands alone take too much
    }
  }
  press->canvas.dry = dry;
  return least <= cw_press_page_height(press) / 2 ? best : 0;
}

CwStatus cw_row_plan(CwPress *press, const CwRowLook *look, size_t i, CwRowPlan *plan)
{
  const CwSheetRow *row = &press->sheet->row[i];
  *plan = (CwRowPlan){.repeat = &press->repeats[i]};
  if (!plan->repeat->is_enough) {
    const CwStatus status = cw_cells_make(row, press->sheet->labels, &plan->cells);
    if (status != CW_OK) {
      return status;
    }
    const CwCells before = cw_cells_before_one(&plan->cells);
    const CwCells rest = cw_cells_from(&plan->cells, before.n);
    const Column column = text_column(press, look, cw_stage_plan_of(press, row, plan->repeat));
    const bool idle = row->others && row->n_steps == 0; // nobody whose sheet it is dances: no room to write either
    plan->columns = idle ? 0 : choose_columns(press, look, row, &rest, column);
  }
  const double y = press->y;
  press->endless = true;
  cw_row_set(press, look, row, plan);
  press->endless = false;
  plan->height = press->y - y;
  press->y = y;
  return CW_OK;
}

static void put_section(CwPress *press, const char *heading)
{
  char *clean = cw_clean_line(heading);
  if (!clean) {
    press->status = CW_ERR_NO_MEM;
    return;
  }
  press->y += CW_SPACE;
  cw_press_flow(press, CW_FACE_SECTION, clean, press->left, press->right - press->left);
  press->y += 1;
  cw_canvas_line(&press->canvas, press->left, press->y, press->right, press->y, CW_SECTION_RULE, 0);
  free(clean);
}

/// Number, time and tempo at the left. @return Where they end.
static double put_left(CwPress *press, const CwRowLook *look, const CwSheetRow *row)
{
  CwCanvas *canvas = &press->canvas;
  char text[CW_WORD_ROOM];
  snprintf(text, sizeof text, "%u", row->number);
  const double x = press->left + look->number_width + CW_GUTTER;
  double end = press->y - CW_NUMBER_RISE;
  end += cw_canvas_label(canvas, CW_FACE_NUMBER, CW_TO_RIGHT, text, press->left, end, look->number_width);
  if (row->timed) {
    char time[24];
    cw_format_time(row->start_s, time);
    double y = press->y;
    y += cw_canvas_label(canvas, CW_FACE_START, CW_TO_LEFT, time, x, y, look->time_width);
    tempo_of(press, row, text);
    y += cw_canvas_label(canvas, CW_FACE_TEMPO, CW_TO_LEFT, text, x, y, look->time_width);
    cw_change_label(row->change_percent, text);
    if (*text) {
      y += cw_canvas_label(canvas, CW_FACE_TEMPO, CW_TO_LEFT, text, x, y, look->time_width);
    }
    end = fmax(end, y);
  }
  return end;
}

/// The mark of a doubtful phrase: a black disc with a question mark.
static void put_check_mark(CwPress *press, CwFace face, double x)
{
  CwCanvas *canvas = &press->canvas;
  cw_press_need(press, 2 * CW_MARK_RADIUS);
  const double middle = press->y + cw_canvas_line_height(canvas, face) / 2;
  if (!canvas->dry) {
    cairo_set_source_rgb(canvas->cr, 0, 0, 0);
    cairo_new_path(canvas->cr);
    cairo_arc(canvas->cr, x + CW_MARK_RADIUS, middle, CW_MARK_RADIUS, 0, 2 * acos(-1.0));
    cairo_fill(canvas->cr);
  }
  const double line = cw_canvas_line_height(canvas, CW_FACE_MARK);
  cw_canvas_label(canvas, CW_FACE_MARK, CW_TO_MIDDLE, "?", x, middle - line / 2, 2 * CW_MARK_RADIUS);
}

/// What is told of a phrase, in the order of its weight.
static void collect_tags(CwLanguage language, const CwRowLook *look, const CwSheetRow *row, const CwRowPlan *plan,
                         CwBuffer *tags)
{
  static const char *const separator = "  \u00b7  ";
  if (row->check_by_ear) {
    char check[CW_WORD_ROOM];
    cw_check_label(language, row, check);
    cw_buffer_join(tags, separator, "%s", check);
  }
  if (look->timed && !row->timed) {
    cw_buffer_join(tags, separator, "%s", cw_label(language, CW_SAY_NOT_TIMED));
  }
  cw_put_tags(language, row, plan->repeat, separator, tags);
  if (plan->columns == 0) { // no grid shows how many
    char counts[CW_WORD_ROOM];
    cw_counts_label(language, row->counts, counts);
    cw_buffer_join(tags, separator, "%s", counts);
  }
}

static void put_tags(CwPress *press, const CwRowLook *look, const CwSheetRow *row, const CwRowPlan *plan, Column column)
{
  CwBuffer tags = {0};
  collect_tags(press->sheet->labels, look, row, plan, &tags);
  press->status = tags.failed ? CW_ERR_NO_MEM : press->status;
  if (tags.length) {
    const CwFace face = plan->repeat->is_enough ? CW_FACE_REPEAT : CW_FACE_TAG;
    double indent = 0;
    if (row->check_by_ear) {
      put_check_mark(press, face, column.x);
      indent = 2 * CW_MARK_RADIUS + CW_LEADING;
    }
    cw_press_flow(press, face, tags.text, column.x + indent, column.width - indent);
    press->y += CW_LEADING;
  }
  cw_buffer_free(&tags);
}

/// Where the phrase is in the recording that the sheet is held against.
static void put_other(CwPress *press, const CwSheetRow *row, Column column)
{
  CwBuffer line = {0};
  if (press->sheet->other) {
    cw_put_other(press->sheet->labels, row, &line);
  }
  press->status = line.failed ? CW_ERR_NO_MEM : press->status;
  if (line.length) {
    cw_press_flow(press, CW_FACE_TEMPO, line.text, column.x, column.width);
    press->y += CW_LEADING;
  }
  cw_buffer_free(&line);
}

/// Steps that no grid can hold, one after another, each behind its counts.
static void put_list(CwPress *press, const CwCells *cells, Column column)
{
  CwCanvas *canvas = &press->canvas;
  CwBuffer label = {0};
  double indent = 0;
  for (size_t i = 0; i < cells->n; i = cw_cells_next(cells, i)) {
    cw_buffer_clear(&label);
    cw_cells_label(cells, i, &label);
    indent = fmax(indent, cw_canvas_width(canvas, CW_FACE_COUNT, cw_buffer_text(&label)) + CW_GUTTER);
  }
  indent = fmin(indent, column.width * CW_LIST_LABEL_PART);
  for (size_t i = 0; i < cells->n; i = cw_cells_next(cells, i)) {
    cw_buffer_clear(&label);
    cw_cells_label(cells, i, &label);
    cw_press_need(press, cw_canvas_line_height(canvas, CW_FACE_STEP) * 2);
    if (cw_canvas_width(canvas, CW_FACE_COUNT, cw_buffer_text(&label)) > indent) {
      cw_press_flow(press, CW_FACE_COUNT, cw_buffer_text(&label), column.x, column.width);
    } else {
      cw_canvas_label(canvas, CW_FACE_COUNT, CW_TO_LEFT, cw_buffer_text(&label), column.x, press->y, indent);
    }
    cw_press_flow(press, CW_FACE_STEP, cells->cell[i].text, column.x + indent, column.width - indent);
  }
  press->status = label.failed ? CW_ERR_NO_MEM : press->status;
  cw_buffer_free(&label);
}

static void put_grid(CwPress *press, const CwGrid *grid)
{
  double height = 0;
  const bool dry = press->canvas.dry;
  press->canvas.dry = true; // measured first: in a phrase taller than a page the grid still stays whole
  const bool fits = cw_grid_set(&press->canvas, grid, press->y, &height);
  press->canvas.dry = dry;
  cw_press_need(press, height);
  if (fits && !dry) {
    cw_grid_set(&press->canvas, grid, press->y, &height);
  }
  press->y += height;
}

static void put_steps(CwPress *press, const CwRowLook *look, const CwSheetRow *row, const CwRowPlan *plan,
                      Column column)
{
  if (plan->repeat->is_enough) {
    return;
  }
  const CwCells before = cw_cells_before_one(&plan->cells);
  const CwCells rest = cw_cells_from(&plan->cells, before.n);
  if (plan->columns == 0) {
    put_list(press, &plan->cells, column);
  } else {
    put_list(press, &before, column);
    const CwGrid grid = grid_of(look, row, &rest, plan->columns, column);
    put_grid(press, &grid);
  }
}

static void put_remark(CwPress *press, const char *remark, Column column);

/// What another role does, below the phrase's own steps.
static void put_part(CwPress *press, const CwRowLook *look, const CwSheetRow *row, const CwSheetPart *part,
                     Column column)
{
  const CwSheetRow its = cw_part_row(row, part);
  const CwRepeat repeat = {0};
  CwRowPlan plan = {.repeat = &repeat};
  CwBuffer tags = {0};
  cw_put_part_tags(press->sheet->labels, part, "  \u00b7  ", &tags);
  const CwStatus status = tags.failed ? CW_ERR_NO_MEM : cw_cells_make(&its, press->sheet->labels, &plan.cells);
  if (status == CW_OK) {
    const CwCells before = cw_cells_before_one(&plan.cells);
    const CwCells rest = cw_cells_from(&plan.cells, before.n);
    plan.columns = choose_columns(press, look, &its, &rest, column);
    press->y += CW_LEADING;
    cw_press_flow(press, CW_FACE_TAG, tags.text, column.x, column.width);
    press->y += CW_LEADING;
    if (part->n_steps > 0) {
      put_steps(press, look, &its, &plan, column);
    }
    put_remark(press, part->remark, column);
  }
  press->status = status == CW_OK ? press->status : status;
  cw_cells_free(&plan.cells);
  cw_buffer_free(&tags);
}

static void put_remark(CwPress *press, const char *remark, Column column)
{
  if (!remark || !remark[0]) {
    return;
  }
  char *clean = cw_clean_line(remark);
  if (clean) {
    press->y += 1;
    cw_press_flow(press, CW_FACE_REMARK, clean, column.x, column.width);
  } else {
    press->status = CW_ERR_NO_MEM;
  }
  free(clean);
}

void cw_row_set(CwPress *press, const CwRowLook *look, const CwSheetRow *row, const CwRowPlan *plan)
{
  const CwStagePlan *stage = cw_stage_plan_of(press, row, plan->repeat);
  const Column column = text_column(press, look, stage);
  cw_press_need(press, CW_ROW_START);
  if (row->section && row->section[0]) {
    put_section(press, row->section);
  } else {
    cw_canvas_line(&press->canvas, press->left, press->y, press->right, press->y, CW_HAIRLINE, CW_RULE_GREY);
  }
  press->y += CW_ROW_PAD;
  cw_press_need(press, CW_ROW_START / 2); // a heading may be long, too
  press->inside = row->number;
  const unsigned page = press->page;
  const bool beside = stage && is_plan_beside(press, look);
  double left_end = put_left(press, look, row);
  if (beside) {
    left_end = fmax(left_end, cw_stage_plan_set(press, stage, press->right - CW_STAGE_WIDTH, press->y));
  }
  put_tags(press, look, row, plan, column);
  put_other(press, row, column);
  put_steps(press, look, row, plan, column);
  put_remark(press, row->remark, column);
  for (size_t i = 0; i < row->n_parts && !plan->repeat->is_enough; i++) {
    put_part(press, look, row, &row->part[i], column);
  }
  if (stage && !beside) {
    press->y += CW_LEADING;
    cw_press_need(press, cw_stage_plan_height(CW_STAGE_WIDTH));
    press->y = cw_stage_plan_set(press, stage, column.x, press->y);
  }
  press->inside = 0;
  if (press->page == page) {
    press->y = fmax(press->y, left_end);
  }
  press->y += CW_ROW_PAD;
  if (row->hold_s > 0) {
    cw_hold_set(press, row, column.x, column.width);
    press->y += CW_ROW_PAD;
  }
}
