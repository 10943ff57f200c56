// SPDX-License-Identifier: GPL-3.0-or-later
/// What a repeat names: phrases by number, sections by heading, everything from the top.
#ifndef CW_NOTES_REFERENCES_H
#define CW_NOTES_REFERENCES_H

#include "notes/parser.h"

/// One phrase or a range of them.
typedef struct {
  size_t first;
  size_t last;
} CwReference;

enum { CW_REFERENCES_MOST = 32 };

/// The phrases that a repeat names.
typedef struct {
  CwReference reference[CW_REFERENCES_MOST];
  size_t n;
  size_t later;    ///< a phrase that is not there yet, from 1; 0 when none
  size_t later_at; ///< where it is named
} CwReferences;

/// How a repeat begins, which says what may follow.
typedef enum { CW_REPEAT, CW_SAME_AS, CW_DA_CAPO } CwRepeatKind;

/// Read what is repeated from `*i` on. Says what does not exist.
/// @return false when the words are no repeat after all ("repeat the turns"). `*i` is moved past what was read.
bool cw_read_references(CwParser *parser, size_t *i, size_t end, CwRepeatKind kind, CwReferences *all);

/// True when a side stands at `i`: "other side". @param[out] next First character after it; unchanged when false.
bool cw_match_side(const CwLineText *text, size_t i, size_t end, size_t *next);

/// "x2", "2x" or "2 times".
bool cw_match_so_often(const CwLineText *text, size_t i, size_t end, size_t *next, unsigned *times);

/// Let a heading be found by its words. The phrases from here on are its own.
void cw_section_begin(CwParser *parser, size_t i, size_t end);

#endif
