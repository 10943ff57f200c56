// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/private.h"

#include <stdint.h>
#include <stdlib.h>

/// The column, in characters from 1, at which a line's private remark begins; SIZE_MAX when it has none.
static size_t private_column(const CwNotebook *notebook, size_t line)
{
  const char *text = notebook->text + notebook->line[line].offset;
  size_t column = 1;
  for (size_t i = 0; i < notebook->line[line].length; i++) {
    if (text[i] == ';' && (i == 0 || text[i - 1] == ' ' || text[i - 1] == '\t')) {
      return column;
    }
    column += ((unsigned char)text[i] & 0xC0) != 0x80;
  }
  return SIZE_MAX;
}

size_t cli_count_private(const CwNotebook *notebook)
{
  size_t n = 0;
  for (size_t i = 0; i < notebook->n_lines; i++) {
    n += private_column(notebook, i) != SIZE_MAX;
  }
  return n;
}

void cli_drop_private(const CwNotebook *notebook, CwMirrored *mirrored)
{
  size_t kept = 0;
  for (size_t i = 0; i < mirrored->n_doubts; i++) {
    CwDiagnostic *doubt = &mirrored->doubt[i];
    const bool known = doubt->line >= 1 && doubt->line <= notebook->n_lines;
    if (known && doubt->column >= private_column(notebook, doubt->line - 1)) {
      free(doubt->text);
    } else {
      mirrored->doubt[kept++] = *doubt;
    }
  }
  mirrored->n_doubts = kept;
}
