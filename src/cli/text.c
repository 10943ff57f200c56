// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/memory.h"
#include "cli/talk.h"

#define MOST_BYTES ((size_t)64 << 20)

/// What a reading that may have been stopped came to.
static CwStatus unless_stopped(CwStatus status)
{
  return status == CW_ERR_READ && cli_stopped_by() ? CW_ERR_CANCELLED : status;
}

CwStatus cli_read_text(const char *path, char **text, size_t *size)
{
  *text = NULL;
  *size = 0;
  // a signal that came before would not end the waiting for input
  return cli_stopped_by() ? CW_ERR_CANCELLED : unless_stopped(cw_file_read(path, MOST_BYTES, text, size));
}

CwStatus cli_read_notes(const char *path, CwNotebook *notebook)
{
  memset(notebook, 0, sizeof *notebook);
  return cli_stopped_by() ? CW_ERR_CANCELLED : unless_stopped(cw_notebook_read(path, notebook));
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
