// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/save.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "desk/names.h"

/// One name for what is being written; a desk that was killed leaves one such file at most.
static const char coming[] = ".coming";

static bool write_whole(int fd, const char *text, size_t size)
{
  for (size_t done = 0; done < size;) {
    const ssize_t n = write(fd, text + done, size - done);
    if (n < 0 && errno == EINTR) {
      continue;
    }
    if (n <= 0) {
      return false;
    }
    done += (size_t)n;
  }
  return fsync(fd) == 0;
}

/// Whoever may read the file may read it afterwards.
static mode_t mode_of(int folder, const char *name)
{
  struct stat facts;
  const bool there = fstatat(folder, name, &facts, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(facts.st_mode);
  return there ? facts.st_mode & 0777 : 0644;
}

/// Keep the file that is there under the same name in another folder.
static void keep_before(int folder, const char *name, int before)
{
  if (before >= 0 && (unlinkat(before, name, 0) == 0 || errno == ENOENT)) {
    linkat(folder, name, before, name, 0); // where there is none, none is kept
  }
}

CwStatus desk_save(int folder, const char *name, const char *text, size_t size, int before)
{
  const mode_t mode = mode_of(folder, name);
  unlinkat(folder, coming, 0);
  const int fd = openat(folder, coming, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, mode);
  if (fd < 0) {
    return cw_errno_status(errno, CW_ERR_WRITE);
  }
  bool good = write_whole(fd, text, size);
  const int why = errno;
  good = close(fd) == 0 && good;
  if (good) {
    keep_before(folder, name, before);
    good = renameat(folder, coming, folder, name) == 0;
  }
  if (!good) {
    unlinkat(folder, coming, 0);
    errno = why;
    return CW_ERR_WRITE;
  }
  const int open_folder = openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (open_folder >= 0) {
    fsync(open_folder); // so that the name lasts, too
    close(open_folder);
  }
  return CW_OK;
}
