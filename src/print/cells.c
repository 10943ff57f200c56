// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/cells.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/buffer.h"
#include "print/clean.h"
#include "print/look.h"

/// Two counts nearer than this are the same count.
static const double same_count = 1e-3;

/// Order of steps: by count, as written where counts are equal. Steps without a sensible count come last.
static int compare_steps(const void *a, const void *b)
{
  const CwStep *const *left = a;
  const CwStep *const *right = b;
  const double left_count = isfinite((*left)->count) ? (*left)->count : INFINITY;
  const double right_count = isfinite((*right)->count) ? (*right)->count : INFINITY;
  if (left_count < right_count) {
    return -1;
  }
  if (left_count > right_count) {
    return 1;
  }
  return *left < *right ? -1 : *left > *right;
}

/// Merge the steps from `step` on that share its count to one cell. @return How many; 0 when memory ran out.
static size_t merge(const CwStep *const *step, size_t n, CwCell *cell)
{
  CwBuffer text = {0};
  *cell = (CwCell){.count = step[0]->count, .until = step[0]->until};
  size_t used = 0;
  for (; used < n && (used == 0 || fabs(step[used]->count - cell->count) < same_count); used++) {
    char *clean = cw_clean_line(step[used]->text);
    if (!clean) {
      text.failed = true;
      break;
    }
    cw_buffer_join(&text, "\n", "%s", *clean ? clean : CW_SAY_WITHOUT_WORDS);
    free(clean);
    cell->until = step[used]->until > cell->until ? step[used]->until : cell->until;
  }
  if (text.failed) {
    cw_buffer_free(&text);
    return 0;
  }
  cell->text = text.text;
  return used;
}

CwStatus cw_cells_make(const CwSheetRow *row, CwCells *cells)
{
  memset(cells, 0, sizeof *cells);
  const CwStep **order = cw_new(row->n_steps, sizeof *order);
  cells->cell = cw_new(row->n_steps, sizeof *cells->cell);
  bool good = order && cells->cell;
  if (good) {
    for (size_t i = 0; i < row->n_steps; i++) {
      order[i] = &row->step[i];
    }
    if (row->n_steps) {
      qsort(order, row->n_steps, sizeof *order, compare_steps);
    }
  }
  for (size_t i = 0; good && i < row->n_steps;) {
    const size_t used = merge(order + i, row->n_steps - i, &cells->cell[cells->n]);
    good = used > 0;
    cells->n += good;
    i += used;
  }
  free(order);
  if (!good) {
    cw_cells_free(cells);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

void cw_cells_free(CwCells *cells)
{
  for (size_t i = 0; i < cells->n; i++) {
    free(cells->cell[i].text);
  }
  free(cells->cell);
  memset(cells, 0, sizeof *cells);
}

bool cw_cells_fit_counts(const CwCells *cells, unsigned counts)
{
  if (counts > CW_MOST_COUNTS_IN_GRID) {
    return false;
  }
  for (size_t i = 0; i < cells->n; i++) {
    if (!(cells->cell[i].count >= 1 && cells->cell[i].count < counts + 1.0)) {
      return false;
    }
  }
  return true;
}

bool cw_row_only_repeats(const CwSheet *sheet, const CwSheetRow *row)
{
  if (!row->like || row->like > sheet->n_rows || row->n_steps == 0) {
    return row->like != 0 && row->n_steps == 0;
  }
  const CwSheetRow *first = &sheet->row[row->like - 1];
  if (first == row || first->number != row->like || first->counts != row->counts || first->n_steps != row->n_steps) {
    return false;
  }
  for (size_t i = 0; i < row->n_steps; i++) {
    if (fabs(first->step[i].count - row->step[i].count) > same_count ||
        fabs(first->step[i].until - row->step[i].until) > same_count ||
        strcmp(first->step[i].text, row->step[i].text) != 0) {
      return false;
    }
  }
  return true;
}

bool cw_sheet_is_bare(const CwSheet *sheet)
{
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (sheet->row[i].n_steps) {
      return false;
    }
  }
  return true;
}

unsigned cw_counts_per_line(unsigned counts, unsigned most)
{
  const unsigned lines = counts / most + (counts % most != 0);
  return lines ? counts / lines + (counts % lines != 0) : 1;
}
