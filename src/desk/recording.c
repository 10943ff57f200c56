// SPDX-License-Identifier: GPL-3.0-or-later
/// Recordings for the browser's player.
#include <stdio.h>

#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/names.h"
#include "desk/range.h"
#include "desk/routes.h"

void desk_send_file(int fd, const struct stat *facts, const char *name, const DeskRequest *request,
                    DeskResponse *response)
{
  const uint64_t size = (uint64_t)facts->st_size;
  uint64_t first;
  uint64_t length;
  const DeskRange range = desk_range(request->range, size, &first, &length);
  char text[100];
  *response = (DeskResponse){.form = DESK_FILE,
                             .status = range == DESK_RANGE_ALL ? 200 : 206,
                             .type = desk_type_of(name),
                             .fd = fd,
                             .offset = first,
                             .size = (size_t)length};
  if (range == DESK_RANGE_NONE) {
    desk_answer_problem(response, 416, "the recording ends before that"); // closes the file
    snprintf(text, sizeof text, "bytes */%llu", (unsigned long long)size);
    desk_field(response, "Content-Range", text);
    return;
  }
  desk_field(response, "Accept-Ranges", "bytes");
  if (range == DESK_RANGE_PART) {
    snprintf(text, sizeof text, "bytes %llu-%llu/%llu", (unsigned long long)first,
             (unsigned long long)(first + length - 1), (unsigned long long)size);
    desk_field(response, "Content-Range", text);
  }
}

void desk_get_recording(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  const char *name = desk_query(request, "name");
  struct stat facts;
  const int fd = desk_is_name(name) && desk_kind_of(name) == DESK_RECORDING
                     ? desk_open_file(desk->place.folder, name, &facts)
                     : -1;
  if (fd < 0) {
    desk_answer_problem(response, 404, "there is no such recording in the folder");
    return;
  }
  desk_send_file(fd, &facts, name, request, response);
}
