// SPDX-License-Identifier: GPL-3.0-or-later
/// Private remarks in notes: what follows a ";" at a line's start or after a blank. They never leave the notes.
#ifndef CW_CLI_PRIVATE_H
#define CW_CLI_PRIVATE_H

#include "countwright/mirror.h"
#include "countwright/notebook.h"

/// How many there are.
size_t cli_count_private(const CwNotebook *notebook);

/// Take the doubts away that lie in them.
void cli_drop_private(const CwNotebook *notebook, CwMirrored *mirrored);

#endif
