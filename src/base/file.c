// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/file.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

CwStatus cw_errno_status(int number, CwStatus otherwise)
{
  switch (number) {
  case ENOENT:
  case ENOTDIR:
    return CW_ERR_NOT_FOUND;
  case EACCES:
  case EPERM:
  case EROFS:
    return CW_ERR_NO_ACCESS;
  case EISDIR:
    return CW_ERR_IS_DIRECTORY;
  default:
    return otherwise;
  }
}

static CwStatus read_all(FILE *in, size_t most_bytes, char **text, size_t *size)
{
  size_t room = 0;
  do {
    if (!cw_grow(text, &room, *size + 1, 1)) { // one more for the NUL
      return CW_ERR_NO_MEM;
    }
    errno = 0;
    *size += fread(*text + *size, 1, room - *size - 1, in);
    if (ferror(in)) {
      return cw_errno_status(errno, CW_ERR_READ);
    }
    if (*size > most_bytes) {
      return CW_ERR_TOO_LONG;
    }
  } while (!feof(in));
  (*text)[*size] = '\0';
  return CW_OK;
}

CwStatus cw_file_read(const char *path, size_t most_bytes, char **text, size_t *size)
{
  *text = NULL;
  *size = 0;
  const bool standard = strcmp(path, "-") == 0;
  FILE *in = standard ? stdin : fopen(path, "rb");
  if (!in) {
    return cw_errno_status(errno, CW_ERR_READ);
  }
  const CwStatus status = read_all(in, most_bytes, text, size);
  if (!standard) {
    fclose(in);
  }
  if (status != CW_OK) {
    free(*text);
    *text = NULL;
    *size = 0;
  }
  return status;
}

bool cw_is_binary(const char *text, size_t size)
{
  if (size >= 2 && (memcmp(text, "\xFF\xFE", 2) == 0 || memcmp(text, "\xFE\xFF", 2) == 0)) {
    return false; // UTF-16, of which every other byte may be one
  }
  const size_t looked_at = size < 4096 ? size : 4096;
  size_t nuls = 0;
  for (size_t i = 0; i < looked_at; i++) {
    nuls += text[i] == '\0';
  }
  return nuls >= 8;
}
