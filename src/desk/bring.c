// SPDX-License-Identifier: GPL-3.0-or-later
/// Recordings that come into the folder through the page.
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "countwright/audio.h"
#include "desk/desk.h"
#include "desk/names.h"
#include "desk/routes.h"

enum { MOST_TRIES = 100 };

/// Give a file a name in the folder that no other has: "waltz.m4a", "waltz 2.m4a" ...
static bool name_it(int folder, const char *path, const char *wanted, char out[DESK_NAME])
{
  const char *ending = strrchr(wanted, '.');
  for (int n = 1; n < MOST_TRIES; n++) {
    char number[16] = "";
    if (n > 1) {
      snprintf(number, sizeof number, " %d", n);
    }
    const int written = snprintf(out, DESK_NAME, "%.*s%s%s", (int)(ending - wanted), wanted, number, ending);
    if (written >= DESK_NAME) {
      errno = ENAMETOOLONG;
      return false;
    }
    if (linkat(AT_FDCWD, path, folder, out, AT_SYMLINK_FOLLOW) == 0) {
      return true;
    }
    if (errno != EEXIST) {
      return false;
    }
  }
  return false;
}

/// Whether it is a recording that can be read. @return CW_OK when it is.
static CwStatus check(const char *path)
{
  CwReader *reader = NULL;
  const CwStatus status = cw_reader_open(path, CW_ANALYSIS_RATE_HZ, NULL, &reader);
  cw_reader_free(reader);
  return status;
}

void desk_post_recording(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  const char *wanted = desk_query(request, "name");
  char path[40];
  char name[DESK_NAME];
  if (!desk_is_name(wanted) || desk_kind_of(wanted) != DESK_RECORDING) {
    desk_answer_problem(response, 422, "expected a recording with a name such as 'waltz.m4a'");
    return;
  }
  snprintf(path, sizeof path, "/proc/self/fd/%d", request->body_fd);
  const CwStatus status = check(path);
  if (status != CW_OK) {
    desk_answer_status(response, wanted, status);
    return;
  }
  if (fchmod(request->body_fd, 0644) != 0 || fsync(request->body_fd) != 0 ||
      !name_it(desk->place.folder, path, wanted, name)) {
    desk_answer_problem(response, 507, "'%s' cannot be kept: %s", wanted, strerror(errno));
    return;
  }
  desk_events_tell(&desk->events, json_pack("{s:s}", "what", "shelf"));
  desk_answer_json(response, 201, json_pack("{s:s}", "name", name));
}
