// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/events.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/memory.h"

/// A word now and then shows who is gone.
enum { WAIT_S = 10 };

static const char greeting[] = "retry: 1000\n\n";
static const char still_here[] = ": still here\n\n";
static const char missed[] = "data: {\"what\":\"missed\"}\n\n";

void desk_events_init(DeskEvents *events)
{
  memset(events, 0, sizeof *events);
  pthread_mutex_init(&events->lock, NULL);
  pthread_cond_init(&events->changed, NULL);
}

void desk_events_tell(DeskEvents *events, json_t *json)
{
  char *data = json ? json_dumps(json, JSON_COMPACT | JSON_REAL_PRECISION(6)) : NULL;
  json_decref(json);
  const size_t size = data ? strlen(data) + 16 : 0;
  char *text = data ? cw_new(size, 1) : NULL;
  if (text) {
    snprintf(text, size, "data: %s\n\n", data);
    pthread_mutex_lock(&events->lock);
    free(events->text[events->n % DESK_EVENTS_KEPT]);
    events->text[events->n % DESK_EVENTS_KEPT] = text;
    events->n++;
    pthread_cond_broadcast(&events->changed);
    pthread_mutex_unlock(&events->lock);
  }
  free(data);
}

DeskListener *desk_listen(DeskEvents *events)
{
  DeskListener *listener = cw_new(1, sizeof *listener);
  if (!listener) {
    return NULL;
  }
  pthread_mutex_lock(&events->lock);
  const bool room = events->n_listeners < DESK_LISTENERS && !events->over;
  events->n_listeners += room ? 1 : 0;
  *listener = (DeskListener){.events = events, .next = events->n};
  pthread_mutex_unlock(&events->lock);
  if (!room) {
    free(listener);
    return NULL;
  }
  return listener;
}

/// Wait for the next event. @return Whether it came in time.
static bool wait_for(DeskListener *listener)
{
  DeskEvents *events = listener->events;
  struct timespec until;
  clock_gettime(CLOCK_REALTIME, &until);
  until.tv_sec += WAIT_S;
  int late = 0;
  while (events->n == listener->next && !events->over && late == 0) {
    late = pthread_cond_timedwait(&events->changed, &events->lock, &until);
  }
  return events->n > listener->next;
}

/// What to send next; the lock is held.
static const char *choose(DeskListener *listener)
{
  DeskEvents *events = listener->events;
  if (!listener->greeted) {
    listener->greeted = true;
    return greeting;
  }
  if (!wait_for(listener)) {
    return events->over ? NULL : still_here;
  }
  if (events->n - listener->next > DESK_EVENTS_KEPT) {
    listener->next = events->n;
    return missed;
  }
  const char *text = events->text[listener->next++ % DESK_EVENTS_KEPT];
  free(listener->own);
  listener->own = cw_copy_text(text, strlen(text)); // it may be replaced while it is sent
  return listener->own ? listener->own : missed;
}

size_t desk_listener_read(DeskListener *listener, char *out, size_t size)
{
  if (!listener->rest || !*listener->rest) {
    pthread_mutex_lock(&listener->events->lock);
    listener->rest = choose(listener);
    pthread_mutex_unlock(&listener->events->lock);
  }
  if (!listener->rest) {
    return 0;
  }
  const size_t left = strlen(listener->rest);
  const size_t n = left < size ? left : size;
  memcpy(out, listener->rest, n);
  listener->rest += n;
  return n;
}

void desk_listener_free(DeskListener *listener)
{
  pthread_mutex_lock(&listener->events->lock);
  listener->events->n_listeners--;
  pthread_mutex_unlock(&listener->events->lock);
  free(listener->own);
  free(listener);
}

void desk_events_end(DeskEvents *events)
{
  pthread_mutex_lock(&events->lock);
  events->over = true;
  pthread_cond_broadcast(&events->changed);
  pthread_mutex_unlock(&events->lock);
}

void desk_events_free(DeskEvents *events)
{
  for (size_t i = 0; i < DESK_EVENTS_KEPT; i++) {
    free(events->text[i]);
  }
  pthread_cond_destroy(&events->changed);
  pthread_mutex_destroy(&events->lock);
}
