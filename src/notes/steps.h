// SPDX-License-Identifier: GPL-3.0-or-later
/// The words of a phrase, placed on its counts.
#ifndef CW_NOTES_STEPS_H
#define CW_NOTES_STEPS_H

#include "notes/parser.h"

/// Read [i, end) of the line at hand into steps, pins and a remark.
void cw_read_steps(CwParser *parser, CwDraft *draft, size_t i, size_t end);

#endif
