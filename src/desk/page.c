// SPDX-License-Identifier: GPL-3.0-or-later
/// The files of the page, as they lie in the program.
#include <stdio.h>
#include <string.h>

#include "desk/page.h"
#include "desk/routes.h"

static void send_part(const char *name, const DeskRequest *request, DeskResponse *response)
{
  const DeskPart *part = desk_parts;
  while (part->name && strcmp(part->name, name) != 0) {
    part++;
  }
  if (!part->name) {
    desk_answer_problem(response, 404, "there is no such page");
    return;
  }
  const bool known = request->known && strcmp(request->known, part->mark) == 0;
  *response = (DeskResponse){.form = DESK_FIXED,
                             .status = known ? 304 : 200,
                             .type = part->type,
                             .body = (char *)(uintptr_t)part->begin, // only read
                             .size = known ? 0 : (size_t)(part->end - part->begin)};
  desk_field(response, "ETag", part->mark);
}

void desk_get_page(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  (void)desk;
  send_part("desk.html", request, response);
}

void desk_get_part(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  (void)desk;
  send_part(request->path + strlen("/page/"), request, response);
}

void desk_get_events(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  (void)desk;
  (void)request;
  *response = (DeskResponse){.form = DESK_EVENTS, .status = 200, .type = "text/event-stream"};
}
