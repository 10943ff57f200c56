// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cli/talk.h"

#define MOST_BYTES ((size_t)64 << 20)

static CwStatus from_errno(int number)
{
  switch (number) {
  case ENOENT:
  case ENOTDIR:
    return CW_ERR_NOT_FOUND;
  case EACCES:
    return CW_ERR_NO_ACCESS;
  case EISDIR:
    return CW_ERR_IS_DIRECTORY;
  default:
    return cli_stopped_by() ? CW_ERR_CANCELLED : CW_ERR_READ;
  }
}

static CwStatus read_stream(FILE *in, char **text, size_t *size)
{
  size_t room = 0;
  do {
    if (room - *size < 2) {
      room = room ? 2 * room : 65536;
      char *grown = cw_resize(*text, room, 1);
      if (!grown) {
        return CW_ERR_NO_MEM;
      }
      *text = grown;
    }
    errno = 0;
    *size += fread(*text + *size, 1, room - *size - 1, in);
    if (ferror(in)) {
      return from_errno(errno);
    }
    if (*size > MOST_BYTES) {
      return CW_ERR_TOO_LONG;
    }
  } while (!feof(in));
  (*text)[*size] = '\0';
  return CW_OK;
}

CwStatus cli_read_text(const char *path, char **text, size_t *size)
{
  *text = NULL;
  *size = 0;
  const bool standard = strcmp(path, "-") == 0;
  FILE *in = standard ? stdin : fopen(path, "rb");
  if (!in) {
    return from_errno(errno);
  }
  const CwStatus status = read_stream(in, text, size);
  if (!standard) {
    fclose(in);
  }
  if (status != CW_OK) {
    free(*text);
    *text = NULL;
  }
  return status;
}

/// Whether this is no text: a recording, say. A stray NUL may come into notes; many together do not.
static bool is_binary(const char *text, size_t size)
{
  const size_t looked_at = size < 4096 ? size : 4096;
  size_t nuls = 0;
  for (size_t i = 0; i < looked_at; i++) {
    nuls += text[i] == '\0';
  }
  return nuls >= 8;
}

CwStatus cli_read_notes(const char *path, CwNotebook *notebook)
{
  memset(notebook, 0, sizeof *notebook);
  char *text = NULL;
  size_t size = 0;
  CwStatus status = cli_read_text(path, &text, &size);
  if (status == CW_OK && is_binary(text, size)) {
    status = CW_ERR_NOT_TEXT;
  }
  if (status == CW_OK) {
    status = cw_notebook_parse(text, size, notebook);
  }
  free(text);
  return status;
}

char *cli_beside_notes(const char *name, const char *notes_path)
{
  const int folder = name[0] == '/' ? 0 : (int)(cli_base_name(notes_path) - notes_path);
  const size_t size = (size_t)folder + strlen(name) + 1;
  char *path = cw_new(size, 1);
  if (path) {
    snprintf(path, size, "%.*s%s", folder, notes_path, name);
  }
  return path;
}

CwStatus cli_recording_of(const CwNotebook *notebook, const char *notes_path, char **recording)
{
  const char *name = notebook->head.recording;
  *recording = name ? cli_beside_notes(name, notes_path) : NULL;
  return name && !*recording ? CW_ERR_NO_MEM : CW_OK;
}

const char *cli_base_name(const char *path)
{
  const char *slash = strrchr(path, '/');
  return slash ? slash + 1 : path;
}
