// SPDX-License-Identifier: GPL-3.0-or-later
/// A hold on paper.
#ifndef CW_PRINT_HOLD_PDF_H
#define CW_PRINT_HOLD_PDF_H

#include "print/press.h"

/// A hatched bar where the counts stop, with the length of the hold after a row in a gap at `text_column`, where text may be
/// `width` wide.
void cw_hold_set(CwPress *press, const CwSheetRow *row, double text_column, double width);

#endif
