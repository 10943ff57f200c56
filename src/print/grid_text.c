// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/grid_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/look.h"
#include "print/words.h"
#include "print/wrap.h"

/// A place in a line of counts: a whole count, or a sub-count that a step stands on.
typedef struct {
  double count;
  char label[CW_WORD_ROOM];
  unsigned label_width;
  const CwCell *cell; ///< NULL when no words stand here
  unsigned piece;     ///< columns that the step needs at least
  unsigned x;         ///< column at which it stands
  CwLines lines;      ///< the step, wrapped
} Slot;

/// One line of counts.
typedef struct {
  Slot *slot;
  size_t n;
  unsigned last; ///< its last whole count
} Row;

/// The lines of a phrase.
typedef struct {
  Row *row;
  size_t n;
  unsigned width;  ///< columns of the grid
  unsigned column; ///< columns of one count, were all alike
} Grid;

static void grid_free(Grid *grid)
{
  for (size_t i = 0; i < grid->n; i++) {
    for (size_t k = 0; k < grid->row[i].n; k++) {
      cw_lines_free(&grid->row[i].slot[k].lines);
    }
    free(grid->row[i].slot);
  }
  free(grid->row);
  memset(grid, 0, sizeof *grid);
}

static CwStatus add_slot(Row *row, double count, const CwCell *cell)
{
  Slot *slot = &row->slot[row->n++];
  slot->count = count;
  if (cell && !cell->text[0]) {
    cw_marked_label(count, slot->label);
  } else {
    cw_count_label(count, slot->label);
    slot->cell = cell;
  }
  slot->label_width = cw_text_width(slot->label, strlen(slot->label));
  return slot->cell ? cw_widest_piece(slot->cell->text, &slot->piece) : CW_OK;
}

/// Fill a line with counts `first` to `last` and the cells that begin in it. `next` is the first cell not yet set.
static CwStatus fill_row(Row *row, unsigned first, unsigned last, const CwCells *cells, size_t *next)
{
  row->last = last;
  row->slot = cw_new(last - first + 1 + cells->n - *next, sizeof *row->slot);
  CwStatus status = row->slot ? CW_OK : CW_ERR_NO_MEM;
  for (unsigned count = first; status == CW_OK && count <= last; count++) {
    const CwCell *cell = *next < cells->n ? &cells->cell[*next] : NULL;
    const bool here = cell && fabs(cell->count - count) < 1e-3;
    status = add_slot(row, count, here ? cell : NULL);
    *next += here;
    while (status == CW_OK && *next < cells->n && cells->cell[*next].count < count + 1.0 - 1e-3) {
      cell = &cells->cell[(*next)++];
      status = add_slot(row, cell->count, cell);
    }
  }
  return status;
}

static CwStatus grid_make(unsigned counts, unsigned per_line, const CwCells *cells, Grid *grid)
{
  const size_t lines = counts / per_line + (counts % per_line != 0);
  grid->row = cw_new(lines, sizeof *grid->row);
  CwStatus status = grid->row ? CW_OK : CW_ERR_NO_MEM;
  size_t next = 0;
  for (unsigned first = 1; status == CW_OK && first <= counts; first += per_line) {
    const unsigned last = counts - first < per_line ? counts : first + per_line - 1;
    status = fill_row(&grid->row[grid->n++], first, last, cells, &next);
  }
  return status;
}

/// Columns from slot `i` to slot `k` at least: room for its label, and for its step when `k` holds the next one.
static unsigned distance(const Row *row, size_t i, size_t k)
{
  unsigned needed = k == i + 1 ? row->slot[i].label_width + (k == row->n ? CW_TEXT_GAP : 1) : 0;
  const bool next_step = k == row->n || row->slot[k].cell;
  for (size_t between = i + 1; between < k; between++) {
    if (row->slot[between].cell) {
      return needed;
    }
  }
  if (row->slot[i].cell && next_step && row->slot[i].piece + CW_TEXT_GAP > needed) {
    needed = row->slot[i].piece + CW_TEXT_GAP;
  }
  return needed;
}

/// Least column of slot `k` when all before it stand as they do.
static unsigned least_x(const Row *row, size_t k)
{
  unsigned x = 0;
  for (size_t i = k; i-- > 0;) {
    const unsigned from_here = row->slot[i].x + distance(row, i, k);
    x = from_here > x ? from_here : x;
    if (row->slot[i].cell) {
      break; // what lies before cannot reach past a step
    }
  }
  return x;
}

/// Greatest column of slot `i` from which all after it still fit into `end` columns; negative when there is none.
static long greatest_x(const Row *row, const long *greatest, size_t i, unsigned end)
{
  long x = (long)end - (long)distance(row, i, row->n);
  for (size_t k = i + 1; k < row->n; k++) {
    const long from_there = greatest[k] - (long)distance(row, i, k);
    x = from_there < x ? from_there : x;
  }
  return x;
}

/// Place the slots of a line as evenly as the steps allow. @return CW_ERR_TOO_LONG when they do not fit.
static CwStatus place(Row *row, unsigned width, unsigned per_line)
{
  const unsigned end = width + CW_TEXT_GAP;
  if (row->n > width) {
    return CW_ERR_TOO_LONG;
  }
  long *greatest = cw_new(row->n, sizeof *greatest);
  if (!greatest) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = row->n; i-- > 0;) {
    greatest[i] = greatest_x(row, greatest, i, end);
  }
  const bool fits = row->n == 0 || greatest[0] >= 0;
  for (size_t i = 0; fits && i < row->n; i++) {
    const double even = (row->slot[i].count - row->slot[0].count) * width / per_line;
    const long wanted = (long)even < greatest[i] ? (long)even : greatest[i];
    const long least = (long)least_x(row, i);
    row->slot[i].x = (unsigned)(wanted > least ? wanted : least);
  }
  free(greatest);
  return fits ? CW_OK : CW_ERR_TOO_LONG;
}

/// Columns that the step of slot `i` may fill: up to the next step.
static unsigned room(const Row *row, size_t i, unsigned width)
{
  for (size_t k = i + 1; k < row->n; k++) {
    if (row->slot[k].cell) {
      return row->slot[k].x - row->slot[i].x - CW_TEXT_GAP;
    }
  }
  return width - row->slot[i].x;
}

/// Place and wrap everything. @return CW_OK, CW_ERR_NO_MEM, or CW_ERR_TOO_LONG when the steps need more room.
static CwStatus arrange(Grid *grid, unsigned per_line)
{
  for (size_t i = 0; i < grid->n; i++) {
    Row *row = &grid->row[i];
    CwStatus status = place(row, grid->width, per_line);
    for (size_t k = 0; status == CW_OK && k < row->n; k++) {
      Slot *slot = &row->slot[k];
      if (slot->cell) {
        status = cw_wrap(slot->cell->text, room(row, k, grid->width), &slot->lines);
      }
      if (status == CW_OK && slot->lines.n > CW_TEXT_TALLEST_CELL) {
        status = CW_ERR_TOO_LONG;
      }
    }
    if (status != CW_OK) {
      return status;
    }
  }
  return CW_OK;
}

/// Whether a step that takes several counts runs on from `count` to `next`.
static bool runs_on(const CwCells *cells, double count, double next)
{
  for (size_t i = 0; i < cells->n && cells->cell[i].count < count + 1e-3; i++) {
    if (cells->cell[i].until > next - 1e-3) {
      return true;
    }
  }
  return false;
}

/// Rule from the label of slot `i` to the next one, or past the last when the step goes on in the next line.
static void put_tie(CwTerminal *terminal, unsigned gap, bool at_end)
{
  fputc(' ', terminal->out);
  cw_terminal_repeat(terminal, CW_TEXT_RULE, gap - (at_end ? 1 : 2));
  cw_terminal_repeat(terminal, " ", at_end ? 0 : 1);
}

static void put_labels(CwTerminal *terminal, unsigned indent, const Row *row, const CwCells *cells, const Grid *grid)
{
  cw_terminal_repeat(terminal, " ", indent);
  for (size_t i = 0; i < row->n; i++) {
    const Slot *slot = &row->slot[i];
    const bool at_end = i + 1 == row->n;
    const unsigned room_left = (at_end ? grid->width : row->slot[i + 1].x) - slot->x;
    const unsigned here = at_end && room_left > grid->column ? grid->column : room_left;
    const unsigned gap = here > slot->label_width ? here - slot->label_width : 0;
    const double next = at_end ? row->last + 1.0 : row->slot[i + 1].count;
    fputs(slot->label, terminal->out);
    if (gap > 2 && runs_on(cells, slot->count, next)) {
      put_tie(terminal, gap, at_end);
    } else if (!at_end) {
      cw_terminal_repeat(terminal, " ", gap);
    }
  }
  fputc('\n', terminal->out);
}

/// @return false when no step has such a line.
static bool put_line(CwTerminal *terminal, unsigned indent, const Row *row, size_t line)
{
  bool any = false;
  unsigned x = 0;
  for (size_t i = 0; i < row->n; i++) {
    const Slot *slot = &row->slot[i];
    if (line >= slot->lines.n) {
      continue;
    }
    const CwSlice *text = &slot->lines.line[line];
    cw_terminal_repeat(terminal, " ", any ? slot->x - x : indent + slot->x);
    fwrite(text->text, 1, text->length, terminal->out);
    x = slot->x + cw_text_width(text->text, text->length);
    any = true;
  }
  if (any) {
    fputc('\n', terminal->out);
  }
  return any;
}

static void grid_put(CwTerminal *terminal, unsigned indent, const Grid *grid, const CwCells *cells)
{
  for (size_t i = 0; i < grid->n; i++) {
    put_labels(terminal, indent, &grid->row[i], cells, grid);
    for (size_t line = 0; put_line(terminal, indent, &grid->row[i], line); line++) {
    }
  }
}

static void put_list(CwTerminal *terminal, unsigned indent, const CwCells *cells)
{
  CwBuffer label = {0};
  unsigned widest = 0;
  for (size_t i = 0; i < cells->n; i = cw_cells_next(cells, i)) {
    cw_buffer_clear(&label);
    cw_cells_label(cells, i, &label);
    const unsigned width = cw_text_width(cw_buffer_text(&label), label.length);
    widest = width > widest ? width : widest;
  }
  widest = widest < CW_TEXT_WIDEST_LABEL ? widest : CW_TEXT_WIDEST_LABEL;
  for (size_t i = 0; i < cells->n && !label.failed; i = cw_cells_next(cells, i)) {
    cw_buffer_clear(&label);
    cw_buffer_join(&label, "", "%*s", (int)indent, "");
    cw_cells_label(cells, i, &label);
    const unsigned text = indent + widest + CW_TEXT_GAP;
    if (cw_text_width(cw_buffer_text(&label), label.length) <= indent + widest) {
      cw_terminal_put(terminal, text, cw_buffer_text(&label), cells->cell[i].text);
    } else {
      cw_terminal_put(terminal, indent, "", cw_buffer_text(&label));
      cw_terminal_put(terminal, text, "", cells->cell[i].text);
    }
  }
  terminal->status = label.failed ? CW_ERR_NO_MEM : terminal->status;
  cw_buffer_free(&label);
}

static unsigned grid_width(const CwTerminal *terminal, unsigned indent)
{
  const unsigned width = terminal->columns - indent;
  return width < CW_TEXT_WIDEST_GRID ? width : CW_TEXT_WIDEST_GRID;
}

/// As a grid, with what comes before the one above it. @return CW_ERR_TOO_LONG when it takes a list.
static CwStatus put_as_grid(CwTerminal *terminal, unsigned indent, unsigned counts, const CwCells *cells)
{
  const CwCells before = cw_cells_before_one(cells);
  const CwCells rest = cw_cells_from(cells, before.n);
  static const unsigned in_a_line[] = {CW_COUNTS_PER_LINE, CW_COUNTS_PER_LINE / 2};
  CwStatus status = CW_ERR_TOO_LONG;
  const bool may = cw_cells_fit_counts(&rest, counts) && rest.cell;
  for (size_t i = 0; may && status == CW_ERR_TOO_LONG && i < sizeof in_a_line / sizeof in_a_line[0]; i++) {
    const unsigned width = grid_width(terminal, indent);
    Grid grid = {.width = width, .column = width / in_a_line[i]};
    status = grid_make(counts, cw_counts_per_line(counts, in_a_line[i]), &rest, &grid);
    if (status == CW_OK) {
      status = arrange(&grid, in_a_line[i]);
    }
    if (status == CW_OK) {
      put_list(terminal, indent, &before);
      grid_put(terminal, indent, &grid, &rest);
    }
    grid_free(&grid);
  }
  return status;
}

void cw_grid_text_put(CwTerminal *terminal, unsigned indent, unsigned counts, const CwCells *cells)
{
  const CwStatus status = terminal->status == CW_OK ? put_as_grid(terminal, indent, counts, cells) : CW_OK;
  if (status == CW_ERR_TOO_LONG) {
    put_list(terminal, indent, cells);
  } else if (status != CW_OK) {
    terminal->status = status;
  }
}
