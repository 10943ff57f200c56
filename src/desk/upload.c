// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/upload.h"

#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdio.h>
#include <unistd.h>

bool desk_upload_begin(const DeskPlace *place, DeskUpload *upload)
{
  static atomic_uint number;
  *upload = (DeskUpload){.fd = -1, .part = desk_place_part(place, "coming")};
  if (upload->part < 0) {
    return false;
  }
  snprintf(upload->name, sizeof upload->name, "%u", atomic_fetch_add(&number, 1));
  // what an earlier desk left there is written over
  upload->fd = openat(upload->part, upload->name, O_RDWR | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, 0600);
  if (upload->fd < 0) {
    close(upload->part);
  }
  return upload->fd >= 0;
}

bool desk_upload_take(const DeskUpload *upload, const char *data, size_t n)
{
  for (size_t done = 0; done < n;) {
    const ssize_t wrote = write(upload->fd, data + done, n - done);
    if (wrote < 0 && errno == EINTR) {
      continue;
    }
    if (wrote <= 0) {
      return false;
    }
    done += (size_t)wrote;
  }
  return true;
}

void desk_upload_end(DeskUpload *upload)
{
  if (upload->fd >= 0) {
    unlinkat(upload->part, upload->name, 0);
    close(upload->fd);
    close(upload->part);
  }
  upload->fd = -1;
}
