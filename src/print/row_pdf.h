// SPDX-License-Identifier: GPL-3.0-or-later
/// A phrase on paper, with the heading before it and the hold after it.
#ifndef CW_PRINT_ROW_PDF_H
#define CW_PRINT_ROW_PDF_H

#include "print/cells.h"
#include "print/press.h"

/// How a phrase is set; found once, before the pages are counted.
typedef struct {
  const CwRepeat *repeat;
  CwCells cells;    ///< none where naming the phrase that it is like is enough
  unsigned columns; ///< counts side by side; 0: no grid but a list
  double height;
} CwRowPlan;

/// What all phrases of a sheet share.
typedef struct {
  double number_width; ///< of the widest phrase number
  double time_width;   ///< of the widest time or tempo; 0 when nothing is timed
  bool timed;
  double write_in; ///< room under a line without steps
} CwRowLook;

/// Find what the phrases share.
CwRowLook cw_row_look(CwPress *press);

/// Find how to set row `i`. @return CW_OK or CW_ERR_NO_MEM. Release the cells.
CW_NODISCARD CwStatus cw_row_plan(CwPress *press, const CwRowLook *look, size_t i, CwRowPlan *plan);

/// Set a phrase at the press's place, which moves below it. Turns the page only inside one that no page can hold.
void cw_row_set(CwPress *press, const CwRowLook *look, const CwSheetRow *row, const CwRowPlan *plan);

#endif
