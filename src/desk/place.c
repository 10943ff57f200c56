// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/place.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "countwright/desk.h"

static int open_part(int folder, const char *name)
{
  if (mkdirat(folder, name, 0700) != 0 && errno != EEXIST) {
    return -1;
  }
  return openat(folder, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
}

int desk_place_part(const DeskPlace *place, const char *name)
{
  return open_part(place->own, name);
}

/// Take the lock, which the system takes back when the program ends, however it ends.
static CwStatus take_lock(DeskPlace *place, CwMessages *messages)
{
  place->lock = openat(place->own, "lock", O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
  if (place->lock < 0) {
    return cw_errno_status(errno, CW_ERR_NO_ACCESS);
  }
  if (flock(place->lock, LOCK_EX | LOCK_NB) == 0) {
    return CW_OK;
  }
  char address[100] = "";
  const ssize_t n = pread(place->lock, address, sizeof address - 1, 0);
  address[n > 0 ? strcspn(address, "\n") : 0] = '\0';
  const CwStatus status =
      cw_messages_add(messages, "a desk is open on this folder already%s%s", *address ? ": " : "", address);
  return status == CW_OK ? CW_ERR_EXISTS : status;
}

CwStatus desk_place_open(const char *folder, DeskPlace *place, CwMessages *messages)
{
  *place = (DeskPlace){-1, -1, -1};
  place->folder = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (place->folder < 0) {
    return errno == ENOTDIR ? CW_ERR_BAD_ARG : cw_errno_status(errno, CW_ERR_READ);
  }
  CwStatus status = CW_OK;
  place->own = open_part(place->folder, CW_DESK_FOLDER);
  if (place->own < 0) {
    status = CW_ERR_NO_ACCESS;
  }
  if (status == CW_OK) {
    status = take_lock(place, messages);
  }
  if (status != CW_OK) {
    desk_place_close(place);
  }
  return status;
}

void desk_place_tell(const DeskPlace *place, const char *address)
{
  if (ftruncate(place->lock, 0) == 0) {
    const ssize_t n = pwrite(place->lock, address, strlen(address), 0);
    (void)n; // who comes second is told less
  }
}

void desk_place_close(DeskPlace *place)
{
  const int fd[] = {place->lock, place->own, place->folder};
  for (size_t i = 0; i < sizeof fd / sizeof fd[0]; i++) {
    if (fd[i] >= 0) {
      close(fd[i]);
    }
  }
  *place = (DeskPlace){-1, -1, -1};
}
