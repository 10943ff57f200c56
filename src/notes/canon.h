// SPDX-License-Identifier: GPL-3.0-or-later
/// Canon: the same steps some counts later.
#ifndef CW_NOTES_CANON_H
#define CW_NOTES_CANON_H

#include "notes/parser.h"
#include "notes/repeats.h"

/// "in canon by 3 lines, 2 counts apart".
typedef struct {
  unsigned apart;   ///< 0: no canon
  unsigned voices;  ///< 0: not said
  const char *word; ///< "line"; never NULL when there are voices
} CwCanon;

/// Take such words off the end of [i, end). @return The new end.
size_t cw_take_canon(CwParser *parser, size_t i, size_t end, CwCanon *canon);

/// Let the notebook's phrases from `first` on be danced so: by the roles in the line's brackets when there are several,
/// else by so many voices as are said.
void cw_canon_last(CwParser *parser, const CwCanon *canon, const CwLineStart *start, size_t first);

/// Read the line at hand from `i` on as a voice of the phrase above: "[second line] starts 2 counts after the first line".
/// @return false when it is none.
bool cw_read_follower(CwParser *parser, size_t i, const CwLineStart *start);

#endif
