// SPDX-License-Identifier: GPL-3.0-or-later
/// A phrase's steps as cells to set under their counts: cleaned, in the order of their counts, one cell for a count.
#ifndef CW_PRINT_CELLS_H
#define CW_PRINT_CELLS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/sheet.h"

/// What stands under one count.
typedef struct {
  double count;
  double until; ///< last count it takes; `count` for a single one
  char *text;   ///< clean; two steps on the same count are two lines
} CwCell;

/// Cells of a phrase. Release with cw_cells_free().
typedef struct {
  CwCell *cell;
  size_t n;
} CwCells;

/// Make the cells of a phrase. @return CW_OK or CW_ERR_NO_MEM; on error `cells` is empty.
CW_NODISCARD CwStatus cw_cells_make(const CwSheetRow *row, CwCells *cells);

/// Release and set to empty.
void cw_cells_free(CwCells *cells);

/// Whether all cells lie within counts 1 to `counts`, and these are not too many, so that they can stand in a grid.
bool cw_cells_fit_counts(const CwCells *cells, unsigned counts);

/// Whether a phrase only repeats the steps of the phrase that it is like, so that naming that one is enough.
bool cw_row_only_repeats(const CwSheet *sheet, const CwSheetRow *row);

/// Whether no phrase of the sheet has steps.
bool cw_sheet_is_bare(const CwSheet *sheet);

/// How many counts to set in a line of at most `most`, so that the lines of a phrase are about equally long.
unsigned cw_counts_per_line(unsigned counts, unsigned most);

#endif
