// SPDX-License-Identifier: GPL-3.0-or-later
/// The grid of a phrase in text: a line of counts, the steps beneath their counts.
#ifndef CW_PRINT_GRID_TEXT_H
#define CW_PRINT_GRID_TEXT_H

#include "print/cells.h"
#include "print/terminal.h"

/// Set a phrase's steps, indented: as a grid, in shorter lines when they need more room, else as a list.
void cw_grid_text_put(CwTerminal *terminal, unsigned indent, unsigned counts, const CwCells *cells);

#endif
