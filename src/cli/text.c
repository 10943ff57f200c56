// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/memory.h"
#include "cli/talk.h"

#define MOST_BYTES ((size_t)64 << 20)

CwStatus cli_read_text(const char *path, char **text, size_t *size)
{
  const CwStatus status = cw_file_read(path, MOST_BYTES, text, size);
  return status == CW_ERR_READ && cli_stopped_by() ? CW_ERR_CANCELLED : status;
}

CwStatus cli_read_notes(const char *path, CwNotebook *notebook)
{
  const CwStatus status = cw_notebook_read(path, notebook);
  return status == CW_ERR_READ && cli_stopped_by() ? CW_ERR_CANCELLED : status;
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
