// SPDX-License-Identifier: GPL-3.0-or-later
/// The table of thresholds in print: figures beside what is held and wanted, and the table itself with new figures.
#ifndef CW_TEST_HARD_TABLE_PRINT_H
#define CW_TEST_HARD_TABLE_PRINT_H

#include "accuracy/hard/table.h"

/// "case mode measure: 0.93, held 0.90" and, where it does, by how much it falls short of what is wanted.
void cw_hard_print_figure(const CwHardLine *line, const CwVerdict *verdict, CwMeasure measure);

/// The line as C, ready for table.c: what is measured now is held, a little loosened, and no more than is wanted.
void cw_hard_print_line(const CwHardLine *line, const CwVerdict *verdict);

/// The same for a line of falls.
void cw_spoil_print_line(const CwSpoilLine *line, const double fall[CW_N_MEASURES]);

#endif
