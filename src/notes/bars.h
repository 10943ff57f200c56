// SPDX-License-Identifier: GPL-3.0-or-later
/// Bars counted aloud: "1 2 3, 2 2 3, 3 2 3", each beginning with its own number.
#ifndef CW_NOTES_BARS_H
#define CW_NOTES_BARS_H

#include "notes/marks.h"
#include "notes/parser.h"

/// A walk from number to number.
typedef struct {
  unsigned beats; ///< of a bar
  double part;    ///< of a count that a beat lasts; 1 when counts are beats
  unsigned bar;   ///< 0 before the first
  unsigned beat;
} CwBars;

/// Whether the marks of [i, end) are bars counted aloud: they go down, as "2 2 3" does, and only so do they make sense.
/// @param[out] bars Ready for cw_bars_take(); its beats are 0 when they are not.
bool cw_bars_find(CwParser *parser, size_t i, size_t end, CwBars *bars);

/// Give a mark its place in the phrase.
void cw_bars_take(CwBars *bars, CwMark *mark);

#endif
