// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/output.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/memory.h"

static void release(CwOutput *output)
{
  free(output->path);
  free(output->temporary);
  memset(output, 0, sizeof *output);
}

static CwStatus open_directly(CwOutput *output)
{
  output->stream = fopen(output->path, "wb");
  return output->stream ? CW_OK : cw_errno_status(errno, CW_ERR_WRITE);
}

static CwStatus open_temporary(CwOutput *output)
{
  const size_t length = strlen(output->path);
  output->temporary = cw_new(length + 16, 1);
  if (!output->temporary) {
    return CW_ERR_NO_MEM;
  }
  snprintf(output->temporary, length + 16, "%s.part-XXXXXX", output->path);
  const int descriptor = mkstemp(output->temporary);
  if (descriptor < 0) {
    const CwStatus status = cw_errno_status(errno, CW_ERR_WRITE);
    free(output->temporary);
    output->temporary = NULL;
    return status;
  }
  const mode_t mask = umask(0);
  umask(mask);
  if (fchmod(descriptor, 0666 & ~mask) != 0) { // mkstemp makes it private; a sheet is meant to be shared
    close(descriptor);
    return CW_ERR_WRITE;
  }
  output->stream = fdopen(descriptor, "wb");
  if (!output->stream) {
    close(descriptor);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_output_begin(const char *path, bool overwrite, CwOutput *output)
{
  memset(output, 0, sizeof *output);
  if (strcmp(path, "-") == 0) {
    output->stream = stdout;
    return CW_OK;
  }
  struct stat facts;
  const bool there = stat(path, &facts) == 0;
  if (there && S_ISDIR(facts.st_mode)) {
    return CW_ERR_IS_DIRECTORY;
  }
  if (there && S_ISREG(facts.st_mode) && !overwrite) {
    return CW_ERR_EXISTS;
  }
  output->path = cw_copy_text(path, strlen(path));
  if (!output->path) {
    return CW_ERR_NO_MEM;
  }
  const CwStatus status = there && !S_ISREG(facts.st_mode) ? open_directly(output) : open_temporary(output);
  if (status != CW_OK) {
    cw_output_cancel(output);
  }
  return status;
}

CwStatus cw_output_end(CwOutput *output)
{
  bool good = fflush(output->stream) == 0 && !ferror(output->stream);
  if (output->path) {
    good = fclose(output->stream) == 0 && good;
    output->stream = NULL;
  }
  if (good && output->temporary) {
    good = rename(output->temporary, output->path) == 0;
  }
  if (!good) {
    cw_output_cancel(output);
    return CW_ERR_WRITE;
  }
  release(output);
  return CW_OK;
}

void cw_output_cancel(CwOutput *output)
{
  if (output->stream && output->path) {
    fclose(output->stream);
  }
  if (output->temporary) {
    unlink(output->temporary);
  }
  release(output);
}
