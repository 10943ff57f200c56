// SPDX-License-Identifier: GPL-3.0-or-later
/// What happens at the desk, told to every open tab as it happens (server-sent events).
#ifndef CW_DESK_EVENTS_H
#define CW_DESK_EVENTS_H

#include <pthread.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <jansson.h>

/// The last events, kept for those who are a little late.
enum { DESK_EVENTS_KEPT = 256, DESK_LISTENERS = 16 };

typedef struct {
  pthread_mutex_t lock;
  pthread_cond_t changed;
  char *text[DESK_EVENTS_KEPT]; ///< event k stands at k % DESK_EVENTS_KEPT
  uint64_t n;                   ///< how many there have been
  unsigned n_listeners;
  bool over;
} DeskEvents;

/// A tab that listens.
typedef struct {
  DeskEvents *events;
  uint64_t next;
  const char *rest; ///< of the event being sent; points into `own`
  char *own;
  bool greeted;
} DeskListener;

void desk_events_init(DeskEvents *events);

/// Tell all tabs. @param json Taken over; nothing is told when it is NULL.
void desk_events_tell(DeskEvents *events, json_t *json);

/// Begin to listen. @return NULL when too many do, or memory ran out.
DeskListener *desk_listen(DeskEvents *events);

/// The next bytes, waiting for them. @return How many; 0 when it is over.
size_t desk_listener_read(DeskListener *listener, char *out, size_t size);

void desk_listener_free(DeskListener *listener);

/// Let all listeners go.
void desk_events_end(DeskEvents *events);

/// Release; no one may listen any more.
void desk_events_free(DeskEvents *events);

#endif
