// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/grid_pdf.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "print/words.h"

/// One line of a grid.
typedef struct {
  const CwGrid *grid;
  unsigned first; ///< its first and last count
  unsigned last;
  size_t from; ///< the cells that begin in it: from .. to - 1
  size_t to;
  double y;
} Line;

static double x_of(const Line *line, double count)
{
  return line->grid->x + (count - line->first) * line->grid->width / line->grid->columns;
}

/// A label with its foot on the foot of the band. @return Where it ends.
static double put_label(CwCanvas *canvas, const Line *line, CwFace face, double count, const char *label)
{
  const CwExtent extent = cw_canvas_set(canvas, face, label, -1);
  const double baseline = (double)pango_layout_get_baseline(canvas->layout) / PANGO_SCALE;
  const double x = x_of(line, count);
  cw_canvas_show(canvas, face, x, line->y + CW_BAND_BASELINE - baseline);
  return x + extent.width;
}

/// The label of a count that has a step or is part of one; of a sub-count only its sign when `brief`. @return Where it
/// ends.
static double put_marked(CwCanvas *canvas, const Line *line, CwFace face, const CwCell *cell, bool brief)
{
  char label[CW_WORD_ROOM];
  if (cell->text[0]) {
    cw_count_label(cell->count, label);
  } else {
    cw_marked_label(cell->count, label);
  }
  const size_t digits = brief ? strspn(label, "0123456789") : 0;
  return put_label(canvas, line, face, cell->count, label + digits);
}

/// The numbers of a line. @return false when they stand too close.
static bool put_numbers(CwCanvas *canvas, const Line *line, bool brief)
{
  const CwCells *cells = line->grid->cells;
  size_t next = line->from;
  double end = -INFINITY;
  for (unsigned count = line->first; count <= line->last; count++) {
    if (end + CW_LABEL_GAP > x_of(line, count)) {
      return false;
    }
    if (next < line->to && fabs(cells->cell[next].count - count) < 1e-3) {
      end = put_marked(canvas, line, CW_FACE_COUNT, &cells->cell[next++], false);
    } else {
      char number[CW_WORD_ROOM];
      snprintf(number, sizeof number, "%u", count);
      end = put_label(canvas, line, CW_FACE_IDLE, count, number);
    }
    for (; next < line->to && cells->cell[next].count < count + 1.0 - 1e-3; next++) {
      if (end + CW_LABEL_GAP > x_of(line, cells->cell[next].count)) {
        return false;
      }
      end = put_marked(canvas, line, CW_FACE_SUB_COUNT, &cells->cell[next], brief);
    }
  }
  return true;
}

/// Whether there is room for sub-counts with their numbers, "3&" and not only "&".
static bool numbers_fit(CwCanvas *canvas, const Line *line)
{
  const bool dry = canvas->dry;
  canvas->dry = true;
  const bool fits = put_numbers(canvas, line, false);
  canvas->dry = dry;
  return fits;
}

/// Where the line under the counts of a step ends: with its last count, or before the step that follows.
static double tie_end(const Line *line, size_t i)
{
  const CwCells *cells = line->grid->cells;
  double end = fmin(floor(cells->cell[i].until + 1e-3) + 1, line->last + 1.0);
  const size_t next = cw_cells_next(cells, i);
  if (next < cells->n) {
    end = fmin(end, fmax(cells->cell[next].count, cells->cell[i].count));
  }
  return x_of(line, end) - CW_STEP_GAP;
}

/// Lines along the band under the counts that one step takes, also of steps begun in a line before.
static void put_ties(CwCanvas *canvas, const Line *line)
{
  const CwCells *cells = line->grid->cells;
  const double y = line->y + CW_BAND_HEIGHT - CW_TIE_WIDTH / 2;
  for (size_t i = 0; i < line->to; i++) {
    const CwCell *cell = &cells->cell[i];
    if (cell->until > cell->count && cell->until >= line->first) {
      const double x = x_of(line, fmax(cell->count, line->first));
      const double end = tie_end(line, i);
      if (end > x) {
        cw_canvas_line(canvas, x, y, end, y, CW_TIE_WIDTH, 0);
      }
    }
  }
}

/// The steps of a line under their counts, up to the next one. @return false when a word does not fit.
static bool put_steps(CwCanvas *canvas, const Line *line, double *height)
{
  const CwGrid *grid = line->grid;
  *height = 0;
  for (size_t i = line->from; i < line->to; i++) {
    const CwCell *cell = &grid->cells->cell[i];
    if (!cell->text[0]) {
      continue;
    }
    const size_t next = cw_cells_next(grid->cells, i);
    const double x = x_of(line, cell->count);
    const double end =
        next < line->to ? x_of(line, grid->cells->cell[next].count) - CW_STEP_GAP : grid->x + grid->width;
    const CwExtent extent = cw_canvas_set(canvas, CW_FACE_STEP, cell->text, fmax(end - x, 1));
    if (extent.width > end - x + 0.5) {
      return false;
    }
    cw_canvas_show(canvas, CW_FACE_STEP, x, line->y + CW_BAND_HEIGHT + CW_STEP_DROP);
    *height = fmax(*height, extent.height);
  }
  return true;
}

/// Where nothing is written yet, lines between the counts, to write between.
static void put_write_in(CwCanvas *canvas, const Line *line)
{
  for (unsigned count = line->first + 1; count <= line->last; count++) {
    const double x = x_of(line, count) - CW_STEP_GAP;
    cw_canvas_line(canvas, x, line->y, x, line->y + CW_BAND_HEIGHT + line->grid->write_in, CW_HAIRLINE, CW_RULE_GREY);
  }
}

static bool put_line(CwCanvas *canvas, const Line *line, double *height)
{
  const double band = x_of(line, line->last + 1.0) - line->grid->x;
  cw_canvas_fill(canvas, line->grid->x - CW_BAND_OVERHANG, line->y, band + CW_BAND_OVERHANG, CW_BAND_HEIGHT,
                 CW_BAND_GREY);
  if (line->grid->cells->n == 0) {
    put_write_in(canvas, line);
  }
  if (!put_numbers(canvas, line, !numbers_fit(canvas, line))) {
    return false;
  }
  put_ties(canvas, line);
  double steps = 0;
  if (!put_steps(canvas, line, &steps)) {
    return false;
  }
  *height = CW_BAND_HEIGHT + (steps > 0 ? CW_STEP_DROP + steps : line->grid->write_in);
  return true;
}

bool cw_grid_set(CwCanvas *canvas, const CwGrid *grid, double y, double *height)
{
  const unsigned per_line = cw_counts_per_line(grid->counts, grid->columns);
  Line line = {.grid = grid, .y = y};
  for (unsigned first = 1; first <= grid->counts; first += per_line) {
    line.first = first;
    line.last = grid->counts - first < per_line ? grid->counts : first + per_line - 1;
    line.from = line.to;
    while (line.to < grid->cells->n && grid->cells->cell[line.to].count < line.last + 1.0 - 1e-3) {
      line.to++;
    }
    double line_height = 0;
    if (!put_line(canvas, &line, &line_height)) {
      return false;
    }
    line.y += line_height + CW_LEADING;
  }
  *height = line.y - y - CW_LEADING;
  return true;
}
