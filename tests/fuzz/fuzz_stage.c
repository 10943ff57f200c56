// SPDX-License-Identifier: GPL-3.0-or-later
/// Any bytes can be mirrored and come back, and be read for places.
#include "fuzz/fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/mirror.h"
#include "countwright/stage.h"
#include "countwright/stage_plan.h"

static void promise(bool kept, const char *what)
{
  if (!kept) {
    fprintf(stderr, "broken promise: %s\n", what);
    abort();
  }
}

static void check_mirror(const char *text, size_t size)
{
  CwMirrored there;
  CwMirrored back;
  promise(cw_mirror_notebook(text, size, &there) == CW_OK, "mirroring works");
  promise(cw_mirror_notebook(there.text, there.size, &back) == CW_OK, "mirroring works again");
  promise(back.size == size && (size == 0 || memcmp(back.text, text, size) == 0), "mirrored twice is the same");
  promise(there.n_changed == back.n_changed, "as many words change back");
  cw_mirrored_free(&there);
  cw_mirrored_free(&back);
}

static void check_reading(const CwStageReading *reading, size_t size)
{
  promise(reading->begin < reading->end && reading->end <= size, "a reading lies in the text");
  for (size_t i = 0; i < reading->n_places; i++) {
    const CwPlace *place = &reading->place[i];
    promise(place->begin >= reading->begin && place->end <= reading->end, "a place lies in its reading");
    promise(place->y >= 0 && place->y <= 1 && place->x >= -2 && place->x <= 2, "a place is on the stage or beside it");
  }
  char *words;
  promise(cw_stage_write(reading, &words) == CW_OK, "a reading can be written");
  free(words);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *text = malloc(size + 1);
  promise(text != NULL, "there is memory");
  memcpy(text, data, size);
  text[size] = '\0';
  check_mirror(text, size);
  CwStageReadings readings;
  promise(cw_stage_read(text, NULL, &readings) == CW_OK, "reading works");
  for (size_t i = 0; i < readings.n; i++) {
    check_reading(&readings.reading[i], strlen(text));
  }
  cw_stage_readings_free(&readings);
  const CwStep step = {.count = 1, .until = 1, .text = text};
  CwStagePlan plan;
  promise(cw_stage_plan_make(&step, 1, NULL, NULL, NULL, &plan) == CW_OK, "a plan can be made");
  cw_stage_plan_free(&plan);
  free(text);
  return 0;
}
