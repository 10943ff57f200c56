// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/desk.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "desk/routes.h"

CwStatus desk_begin(const CwDeskOptions *options, CwDesk **desk, CwMessages *messages)
{
  CwDesk *d = cw_new(1, sizeof *d);
  *desk = NULL;
  if (!d) {
    return CW_ERR_NO_MEM;
  }
  const CwStatus status = desk_place_open(options->folder, &d->place, messages);
  if (status != CW_OK) {
    free(d);
    return status;
  }
  d->cache = options->cache;
  desk_events_init(&d->events);
  *desk = d;
  return CW_OK;
}

CwStatus cw_desk_open(const CwDeskOptions *options, CwDesk **desk, CwMessages *messages)
{
  CwStatus status = desk_begin(options, desk, messages);
  if (status == CW_OK) {
    status = desk_serve(*desk, options->port);
    if (status != CW_OK) {
      cw_desk_close(*desk);
      *desk = NULL;
    }
  }
  return status;
}

const char *cw_desk_address(const CwDesk *desk)
{
  return desk->address;
}

bool cw_desk_is_over(const CwDesk *desk)
{
  return atomic_load(&desk->over);
}

void desk_post_stop(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  (void)request;
  atomic_store(&desk->over, true);
  desk_answer_json(response, 200, json_object());
}

void cw_desk_close(CwDesk *desk)
{
  if (!desk) {
    return;
  }
  desk_events_end(&desk->events);
  desk_unserve(desk);
  desk_events_free(&desk->events);
  desk_place_close(&desk->place);
  free(desk);
}
