// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/desk.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

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
  pthread_mutex_init(&d->lock, NULL);
  *desk = d;
  return CW_OK;
}

/// Look at the notes of all pieces now and then.
static void *watch(void *user)
{
  CwDesk *desk = user;
  const struct timespec step = {.tv_nsec = 500 * 1000 * 1000};
  while (!desk_work_is_over(&desk->work)) {
    pthread_mutex_lock(&desk->lock);
    for (DeskPiece *piece = desk->pieces; piece; piece = piece->next) {
      desk_piece_refresh(piece);
    }
    pthread_mutex_unlock(&desk->lock);
    nanosleep(&step, NULL);
  }
  return NULL;
}

static CwStatus begin_threads(CwDesk *desk)
{
  const CwStatus status = desk_work_begin(&desk->work);
  desk->watching = status == CW_OK && pthread_create(&desk->watch, NULL, watch, desk) == 0;
  return status;
}

CwStatus cw_desk_open(const CwDeskOptions *options, CwDesk **desk, CwMessages *messages)
{
  CwStatus status = desk_begin(options, desk, messages);
  if (status == CW_OK) {
    status = begin_threads(*desk);
    status = status == CW_OK ? desk_serve(*desk, options->port) : status;
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
  desk_work_finish(&desk->work);
  if (desk->watching) {
    pthread_join(desk->watch, NULL);
  }
  desk_work_end(&desk->work);
  while (desk->pieces) {
    DeskPiece *piece = desk->pieces;
    desk->pieces = piece->next;
    desk_piece_free(piece);
  }
  desk_compared_free(&desk->compared);
  pthread_mutex_destroy(&desk->lock);
  desk_events_free(&desk->events);
  desk_place_close(&desk->place);
  free(desk);
}
