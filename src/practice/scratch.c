// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/scratch.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/memory.h"

CwStatus cw_scratch_open(const char *beside, CwScratch *scratch)
{
  static const char name[] = ".sound-XXXXXX";
  *scratch = (CwScratch){.at = -1};
  const char *slash = strrchr(beside, '/');
  const size_t folder = slash ? (size_t)(slash - beside) + 1 : 0;
  char *path = cw_new(folder + sizeof name, 1);
  if (!path) {
    return CW_ERR_NO_MEM;
  }
  memcpy(path, beside, folder);
  memcpy(path + folder, name, sizeof name);
  const int descriptor = mkstemp(path);
  const int error = errno;
  if (descriptor >= 0) {
    unlink(path); // it lives as long as it is open, however the program ends
  }
  free(path);
  if (descriptor < 0) {
    return cw_errno_status(error, CW_ERR_WRITE);
  }
  scratch->file = fdopen(descriptor, "w+b");
  if (!scratch->file) {
    close(descriptor);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_scratch_add(CwScratch *scratch, const float *sample, size_t n)
{
  scratch->n += (long long)n;
  return fwrite(sample, sizeof *sample, n, scratch->file) == n ? CW_OK : CW_ERR_WRITE;
}

/// Read samples that are all there.
static CwStatus read_there(CwScratch *scratch, long long from, float *out, size_t n)
{
  if (scratch->at != from && fseeko(scratch->file, (off_t)from * (off_t)sizeof *out, SEEK_SET) != 0) {
    return scratch->at < 0 ? CW_ERR_WRITE : CW_ERR_READ; // what was written is only now handed to the disk
  }
  scratch->at = from + (long long)n;
  return fread(out, sizeof *out, n, scratch->file) == n ? CW_OK : CW_ERR_READ;
}

CwStatus cw_scratch_read(CwScratch *scratch, long long from, float *out, size_t n)
{
  size_t before = 0;
  while (before < n && from + (long long)before < 0) {
    out[before++] = 0;
  }
  size_t there = 0;
  if (from + (long long)before < scratch->n) {
    const unsigned long long left = (unsigned long long)(scratch->n - from - (long long)before);
    there = left < n - before ? (size_t)left : n - before;
  }
  for (size_t i = before + there; i < n; i++) {
    out[i] = 0;
  }
  return there > 0 ? read_there(scratch, from + (long long)before, out + before, there) : CW_OK;
}

void cw_scratch_close(CwScratch *scratch)
{
  if (scratch->file) {
    fclose(scratch->file);
  }
  *scratch = (CwScratch){0};
}
