// SPDX-License-Identifier: GPL-3.0-or-later
/// Holds: stretches with no counts.
#ifndef CW_NOTES_HOLDS_H
#define CW_NOTES_HOLDS_H

#include "notes/parser.h"

/// A hold as written.
typedef struct {
  double length_s; ///< 0 when not said
  double until_s;  ///< NaN when not said
} CwHold;

/// Take a hold with a time ("hold 0:06", "hold until @1:20") off the end of [i, end).
/// @return Where the words before it end; `end` when there is none.
size_t cw_take_hold(const CwParser *parser, size_t i, size_t end, CwHold *hold);

/// Let a hold follow the last phrase of the notebook, which has one.
void cw_hold_last(CwParser *parser, const CwHold *hold);

#endif
