// SPDX-License-Identifier: GPL-3.0-or-later
/// What all rows of a sheet together make.
#ifndef CW_LINEUP_SHEET_ROWS_H
#define CW_LINEUP_SHEET_ROWS_H

#include "countwright/sheet.h"

/// Find the first one and the slowest and fastest tempo of the rows.
void cw_sheet_measure(CwSheet *sheet);

#endif
