// SPDX-License-Identifier: GPL-3.0-or-later
/// What several roles do at the same time: lines that belong to the phrase above.
#ifndef CW_NOTES_PARTS_H
#define CW_NOTES_PARTS_H

#include "notes/parser.h"
#include "notes/repeats.h"

/// Whether the line at hand may be danced with the phrase above: said so, or the next role right below. Says so when it
/// cannot, though it was said. Sets `parser->within` when it may.
bool cw_part_begins(CwParser *parser, const CwLineStart *start);

/// Make the phrases from `first` on, read from the line at hand, parts of those above, one each. What is left over stays
/// phrases.
/// @return false when they are phrases of their own after all: only the roles said so, and the counts differ.
bool cw_part_fold(CwParser *parser, const CwLineStart *start, size_t first);

/// The line at hand gave phrases from `first` on, which the next may join.
void cw_group_begin(CwParser *parser, const CwLineStart *start, size_t first);

/// Add an empty part to a phrase. @return NULL without memory, which the parser is told.
CwNotePart *cw_part_add(CwParser *parser, CwNotePhrase *phrase);

#endif
