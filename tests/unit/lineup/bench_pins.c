// SPDX-License-Identifier: GPL-3.0-or-later
/// How long a pin takes in a session on ten minutes of music: median and worst.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "countwright/session.h"
#include "unit/cw_test.h"
#include "unit/lineup/music.h"

enum { PINS = 60, COUNTS = 1016 };

static double now_ms(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static int by_value(const void *a, const void *b)
{
  const double left = *(const double *)a;
  const double right = *(const double *)b;
  return (left > right) - (left < right);
}

int main(void)
{
  static Music music = {.now_s = 1.0};
  static const char notes[] = "metre: 4/4\nbeats per count: 1\nwalk x127\n";
  write_beats(&music, COUNTS, 0.588, 4);
  CwFeatures features = play(&music, 600.0);
  CwNotebook notebook;
  CwSession *session = NULL;
  CwMessages messages = {0};
  double took_ms[PINS];
  if (cw_notebook_parse(notes, strlen(notes), &notebook) != CW_OK) {
    return 1;
  }
  const double begun_ms = now_ms();
  if (cw_session_begin(&features, &notebook, NULL, NULL, &session, &messages) != CW_OK) {
    return 1;
  }
  printf("%.0f s of music, %d counts: begun in %.0f ms\n", features.duration_s, COUNTS, now_ms() - begun_ms);
  for (size_t i = 0; i < PINS; i++) {
    const size_t phrase = i * 53 % 127;
    const double time_s = music.beat_s[8 * phrase] + (i % 3 == 0 ? 0.05 : 0.0);
    const double start_ms = now_ms();
    if (cw_session_set_pin(session, phrase, 1.0, time_s, &messages) != CW_OK) {
      return 1;
    }
    took_ms[i] = now_ms() - start_ms;
  }
  qsort(took_ms, PINS, sizeof *took_ms, by_value);
  printf("%d pins: median %.1f ms, worst %.1f ms\n", PINS, took_ms[PINS / 2], took_ms[PINS - 1]);
  cw_session_free(session);
  cw_messages_free(&messages);
  cw_notebook_free(&notebook);
  cw_features_free(&features);
  return 0;
}
