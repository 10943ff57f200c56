// SPDX-License-Identifier: GPL-3.0-or-later
/// First and second endings: a section danced again up to where it ends differently.
#ifndef CW_NOTES_ENDINGS_H
#define CW_NOTES_ENDINGS_H

#include "notes/parser.h"
#include "notes/repeats.h"

/// "2nd ending" at `i`. @param[out] ending Its number. @return The first character after it and signs; `i` when it is none.
size_t cw_match_ending(const CwLineText *text, size_t i, size_t end, unsigned *ending);

/// The same at a line's start.
size_t cw_read_ending_word(CwParser *parser, size_t i, CwLineStart *start);

/// Begin the ending that the line at hand names. The second writes out again what comes before the first.
/// @param alone Nothing else stands on the line. @return true when nothing of the line is left to be read.
bool cw_ending_begins(CwParser *parser, CwLineStart *start, bool alone);

/// The line at hand is over, and with it an ending that stands on it.
void cw_ending_line_over(CwParser *parser);

/// The endings of a section; NULL when it has none.
CwEndings *cw_endings_of(CwParser *parser, size_t section);

/// The endings that the line at hand stands among: the last of them is not over. NULL when there are none.
CwEndings *cw_endings_here(CwParser *parser);

/// The phrase after an ending's last. @param ending From 1.
size_t cw_ending_end(const CwParser *parser, const CwEndings *endings, unsigned ending);

#endif
