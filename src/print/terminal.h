// SPDX-License-Identifier: GPL-3.0-or-later
/// Writing paragraphs to a stream within a number of columns. The first failure is kept; what follows does nothing.
#ifndef CW_PRINT_TERMINAL_H
#define CW_PRINT_TERMINAL_H

#include <stdio.h>

#include "countwright/status.h"
#include "print/buffer.h"

/// A stream of lines of at most `columns` columns.
typedef struct {
  FILE *out;
  unsigned columns;
  CwStatus status; ///< CW_OK, or CW_ERR_NO_MEM once memory ran out
} CwTerminal;

/// Begin. Fewer columns than CW_TEXT_NARROWEST count as that many.
CwTerminal cw_terminal(FILE *out, unsigned columns);

/// `text` wrapped, each line indented; the first begins with `label`, which should be narrower than `indent`. Text that
/// is empty prints the label alone.
void cw_terminal_put(CwTerminal *terminal, unsigned indent, const char *label, const char *text);

/// The same with a buffer, which is emptied.
void cw_terminal_put_buffer(CwTerminal *terminal, unsigned indent, const char *label, CwBuffer *buffer);

/// The same with text that is not clean yet. NULL prints nothing.
void cw_terminal_put_raw(CwTerminal *terminal, unsigned indent, const char *label, const char *text);

/// An empty line.
void cw_terminal_space(CwTerminal *terminal);

/// `n` times `text`.
void cw_terminal_repeat(CwTerminal *terminal, const char *text, unsigned n);

/// Flush. @return What the writing came to: CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_terminal_end(CwTerminal *terminal);

#endif
