// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "countwright/notebook.h"

/// The longest notebook that is read, in bytes.
static const size_t longest_file = (size_t)64 << 20;

CwStatus cw_notebook_read(const char *path, CwNotebook *notebook)
{
  memset(notebook, 0, sizeof *notebook);
  char *text = NULL;
  size_t size = 0;
  CwStatus status = cw_file_read(path, longest_file, &text, &size);
  if (status == CW_OK) {
    status = cw_is_binary(text, size) ? CW_ERR_NOT_TEXT : cw_notebook_parse(text, size, notebook);
  }
  free(text);
  return status;
}
