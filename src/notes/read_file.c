// SPDX-License-Identifier: GPL-3.0-or-later
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/memory.h"
#include "countwright/notebook.h"

/// The longest notebook that is read, in bytes.
static const size_t longest_file = (size_t)64 << 20;

static CwStatus from_errno(int number)
{
  switch (number) {
  case ENOENT:
  case ENOTDIR:
    return CW_ERR_NOT_FOUND;
  case EACCES:
  case EPERM:
    return CW_ERR_NO_ACCESS;
  case EISDIR:
    return CW_ERR_IS_DIRECTORY;
  default:
    return CW_ERR_READ;
  }
}

/// All bytes of a stream, which may be a pipe.
static CwStatus read_all(FILE *in, char **text, size_t *size)
{
  size_t capacity = 0;
  do {
    if (!cw_grow(text, &capacity, *size, 1)) {
      return CW_ERR_NO_MEM;
    }
    *size += fread(*text + *size, 1, capacity - *size, in);
    if (ferror(in)) {
      return from_errno(errno);
    }
    if (*size > longest_file) {
      return CW_ERR_TOO_LONG;
    }
  } while (!feof(in));
  return CW_OK;
}

CwStatus cw_notebook_read(const char *path, CwNotebook *notebook)
{
  memset(notebook, 0, sizeof *notebook);
  struct stat facts;
  if (stat(path, &facts) != 0) {
    return from_errno(errno);
  }
  if (S_ISDIR(facts.st_mode)) {
    return CW_ERR_IS_DIRECTORY;
  }
  FILE *in = fopen(path, "rb");
  if (!in) {
    return from_errno(errno);
  }
  char *text = NULL;
  size_t size = 0;
  CwStatus status = read_all(in, &text, &size);
  fclose(in);
  if (status == CW_OK) {
    status = cw_notebook_parse(text, size, notebook);
  }
  free(text);
  return status;
}
