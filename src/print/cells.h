// SPDX-License-Identifier: GPL-3.0-or-later
/// A phrase's steps as cells to set under their counts: cleaned, in the order of their counts, one cell for a count.
#ifndef CW_PRINT_CELLS_H
#define CW_PRINT_CELLS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/sheet.h"
#include "print/buffer.h"
#include "print/label.h"

/// What stands under one count. Without words it is a further count of the step before it, as the & and 4 of
/// "3&4 ball change".
typedef struct {
  double count;
  double until; ///< last count it takes; `count` for a single one
  char *text;   ///< clean; two steps on the same count are two lines
} CwCell;

/// Cells of a phrase. Release with cw_cells_free().
typedef struct {
  CwCell *cell;
  size_t n;
  unsigned counts; ///< of the phrase
} CwCells;

/// Make the cells of a phrase. @return CW_OK or CW_ERR_NO_MEM; on error `cells` is empty.
CW_NODISCARD CwStatus cw_cells_make(const CwSheetRow *row, CwLanguage language, CwCells *cells);

/// Release and set to empty.
void cw_cells_free(CwCells *cells);

/// The cells of steps that begin before the one, which no grid can hold. Shares the array; do not free.
CwCells cw_cells_before_one(const CwCells *cells);

/// The cells from `i` on. Shares the array; do not free.
CwCells cw_cells_from(const CwCells *cells, size_t i);

/// Whether all cells lie within counts 1 to `counts`, and these are not too many, so that they can stand in a grid.
bool cw_cells_fit_counts(const CwCells *cells, unsigned counts);

/// The next cell after `i` that has words; `n` when there is none.
size_t cw_cells_next(const CwCells *cells, size_t i);

/// All counts of a step as a dancer writes them: "1-4", "3&4", "5, 7". Appends to `label`.
void cw_cells_label(const CwCells *cells, size_t i, CwBuffer *label);

/// Whether no phrase of the sheet has steps.
bool cw_sheet_is_bare(const CwSheet *sheet);

/// How many counts to set in a line of at most `most`, so that the lines of a phrase are about equally long.
unsigned cw_counts_per_line(unsigned counts, unsigned most);

#endif
