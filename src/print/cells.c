// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/cells.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/clean.h"
#include "print/look.h"
#include "print/words.h"

/// Two counts nearer than this are the same count.
static const double same_count = 1e-3;

/// A step in the order of counts.
typedef struct {
  const CwStep *step;
} Place;

/// Order of steps: by count, as written where counts are equal. Steps without a sensible count come last.
static int compare_steps(const void *a, const void *b)
{
  const Place *left = a;
  const Place *right = b;
  const double left_count = isfinite(left->step->count) ? left->step->count : INFINITY;
  const double right_count = isfinite(right->step->count) ? right->step->count : INFINITY;
  if (left_count < right_count) {
    return -1;
  }
  if (left_count > right_count) {
    return 1;
  }
  return left->step < right->step ? -1 : left->step > right->step;
}

/// Merge the steps from `place` on that share its count to one cell. @return How many; 0 when memory ran out.
static size_t merge(const Place *place, size_t n, unsigned counts, CwLanguage language, CwCell *cell)
{
  CwBuffer text = {0};
  *cell = (CwCell){.count = place[0].step->count, .until = place[0].step->until};
  size_t used = 0;
  for (; used < n && (used == 0 || fabs(place[used].step->count - cell->count) < same_count); used++) {
    char *clean = cw_clean_line(place[used].step->text);
    if (!clean) {
      text.failed = true;
      break;
    }
    if (*clean) {
      cw_buffer_join(&text, "\n", "%s", clean);
    } else {
      cw_buffer_put(&text, "");
    }
    free(clean);
    cell->until = place[used].step->until > cell->until ? place[used].step->until : cell->until;
  }
  if (counts > 0 && cell->until >= counts + 1.0 && cell->count < counts + 1.0 && text.length) {
    char until[CW_WORD_ROOM];
    cw_count_label(cell->until - counts, until);
    cw_buffer_join(&text, " ", cw_label(language, CW_SAY_ON_TO), until);
  }
  if (text.failed) {
    cw_buffer_free(&text);
    return 0;
  }
  cell->text = text.text;
  return used;
}

CwStatus cw_cells_make(const CwSheetRow *row, CwLanguage language, CwCells *cells)
{
  memset(cells, 0, sizeof *cells);
  cells->counts = row->counts;
  Place *order = cw_new(row->n_steps, sizeof *order);
  cells->cell = cw_new(row->n_steps, sizeof *cells->cell);
  bool good = order && cells->cell;
  if (good) {
    for (size_t i = 0; i < row->n_steps; i++) {
      order[i].step = &row->step[i];
    }
    if (row->n_steps) {
      qsort(order, row->n_steps, sizeof *order, compare_steps);
    }
  }
  for (size_t i = 0; good && i < row->n_steps;) {
    const size_t used = merge(order + i, row->n_steps - i, row->counts, language, &cells->cell[cells->n]);
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
  for (size_t i = 0; cells->cell && i < cells->n; i++) {
    free(cells->cell[i].text);
  }
  free(cells->cell);
  memset(cells, 0, sizeof *cells);
}

CwCells cw_cells_before_one(const CwCells *cells)
{
  size_t n = 0;
  while (n < cells->n && (cells->cell[n].count < 1 - same_count || (n > 0 && !cells->cell[n].text[0]))) {
    n++;
  }
  // only a step before the one, with the counts it goes on over
  return (CwCells){cells->cell, n > 0 && cells->cell[0].count < 1 - same_count ? n : 0, cells->counts};
}

CwCells cw_cells_from(const CwCells *cells, size_t i)
{
  return (CwCells){cells->cell + i, cells->n - i, cells->counts};
}

bool cw_cells_fit_counts(const CwCells *cells, unsigned counts)
{
  if (counts > CW_MOST_COUNTS_IN_GRID) {
    return false;
  }
  for (size_t i = 0; i < cells->n; i++) {
    if (!(cells->cell[i].count >= 1 - same_count && cells->cell[i].count < counts + 1.0)) {
      return false;
    }
  }
  return true;
}

size_t cw_cells_next(const CwCells *cells, size_t i)
{
  do {
    i++;
  } while (i < cells->n && !cells->cell[i].text[0]);
  return i;
}

/// Whether the second count is said right after the first, as "&" after "3" or "4" after "3&".
static bool is_said_together(double earlier, double later)
{
  const double whole = floor(earlier + same_count);
  const double later_whole = floor(later + same_count);
  const bool from_sub_count = earlier - whole > same_count;
  const bool to_whole_count = later - later_whole < same_count;
  return later_whole == whole || (later_whole == whole + 1 && from_sub_count && to_whole_count);
}

void cw_cells_label(const CwCells *cells, size_t i, CwBuffer *label)
{
  const CwCell *cell = &cells->cell[i];
  char word[CW_WORD_ROOM];
  cw_span_label_in(cell->count, cell->until, cells->counts, word);
  cw_buffer_put(label, word);
  const size_t end = cw_cells_next(cells, i);
  for (size_t k = i + 1; k < end; k++) {
    const double earlier = cells->cell[k - 1].until;
    const double later = cells->cell[k].count;
    cw_span_label_in(later, cells->cell[k].until, cells->counts, word);
    if (is_said_together(earlier, later)) {
      // "3&" said after "3" is only "&"
      const bool same_whole = floor(later + same_count) == floor(earlier + same_count);
      const size_t digits = same_whole ? strspn(word, "0123456789") : 0;
      cw_buffer_put(label, word + digits);
    } else {
      cw_buffer_put(label, ", ");
      cw_buffer_put(label, word);
    }
  }
}

bool cw_sheet_is_bare(const CwSheet *sheet)
{
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (sheet->row[i].n_steps || sheet->row[i].n_parts) {
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
