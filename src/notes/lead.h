// SPDX-License-Identifier: GPL-3.0-or-later
/// The number that may lead a phrase: its number of counts, a count mark, or the phrase's own number.
#ifndef CW_NOTES_LEAD_H
#define CW_NOTES_LEAD_H

#include "notes/parser.h"

/// What was found at the start of a phrase.
typedef struct {
  unsigned counts; ///< the number of counts; 0 when not given
  unsigned times;  ///< "4x8 walk": how often it is danced; 0 when not said
  size_t next;     ///< where the words begin
  size_t end;      ///< and where they end
  bool pinned;     ///< "8 @ 1:02 1-4 ...": a pin of the one after the number
  double pin_s;
  size_t pin_at;
} CwLead;

/// Read what leads [i, end) of the line at hand.
void cw_read_lead(CwParser *parser, size_t i, size_t end, CwLead *lead);

/// Pass over the phrase's own number, "3." or "3)". @return The first character after it and blanks; `i` without one.
size_t cw_skip_own_number(CwParser *parser, size_t i, size_t end);

/// True when a count is three beats, so that "e" and "a" are the 2 and 3 of a bar.
bool cw_counts_in_three(const CwParser *parser);

#endif
