// SPDX-License-Identifier: GPL-3.0-or-later
/// Tempo in words and numbers, as it stands over music.
#ifndef CW_NOTES_TEMPO_H
#define CW_NOTES_TEMPO_H

#include <stdbool.h>

#include "countwright/notebook.h"
#include "notes/line_text.h"

/// Read a tempo from [i, end): words such as "Allegro moderato", or a number of beats a minute such as "96", "♩ = 96"
/// or "92-100".
/// @param heading Whether it is a heading: numbers then count only after "=".
/// @param[out] tempo Unchanged when false.
bool cw_read_tempo(const CwLineText *text, size_t i, size_t end, bool heading, CwNotedTempo *tempo);

#endif
