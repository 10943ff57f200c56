// SPDX-License-Identifier: GPL-3.0-or-later
/// Steps without marks, spread over their phrase.
#ifndef CW_NOTES_SPREAD_H
#define CW_NOTES_SPREAD_H

#include "notes/parser.h"

/// Make the steps in [from, to) of the line, parted by commas, those of the phrase, which has none: in order, each as
/// long as the others as far as whole counts (or halves or quarters, when they are many) allow.
void cw_spread_words(CwParser *parser, CwDraft *draft, size_t from, size_t to);

#endif
