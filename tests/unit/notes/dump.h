// SPDX-License-Identifier: GPL-3.0-or-later
/// A notebook as parsed, in a few readable lines; what the "parsed" blocks of src/notes/GRAMMAR.md are written in.
#ifndef CW_TEST_NOTES_DUMP_H
#define CW_TEST_NOTES_DUMP_H

#include "countwright/notebook.h"

/// @return The dump; release with free().
char *dump_notebook(const CwNotebook *notebook);

#endif
