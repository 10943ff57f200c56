// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/stage_json.h"

#include <math.h>
#include <stdlib.h>

#include "countwright/stage.h"
#include "print/json.h"

static const char *const kind_word[] = {"at", "path", "circle", "facing"};
static const char *const line_word[] = {"straight", "diagonal", "curve"};
static const char *const bend_word[] = {NULL, "left", "right"};
static const char *const direction_word[] = {"DS", "DSL", "SL", "USL", "US", "USR", "SR", "DSR"};

static json_t *place_value(const CwPlace *place, bool *good)
{
  json_t *object = json_object();
  char name[CW_PLACE_ROOM];
  const bool sideless = !place->x_said && place->spot != CW_SPOT_AREA;
  cw_json_text(object, "name", cw_place_name(place, name), good);
  cw_json_number(object, "x", place->x_said && !sideless ? place->x : NAN, CW_COUNT_DIGITS, good);
  cw_json_number(object, "y", place->y_said ? place->y : NAN, CW_COUNT_DIGITS, good);
  cw_json_whole_or_null(object, "wing", place->wing, good);
  return object;
}

static json_t *reading_value(const CwStageReading *reading, const char *who, double count, bool *good)
{
  json_t *object = json_object();
  const bool path = reading->kind == CW_STAGE_PATH;
  char *words = NULL;
  *good = cw_stage_write(reading, &words) == CW_OK && *good;
  cw_json_text(object, "kind", kind_word[reading->kind], good);
  cw_json_number(object, "count", count, CW_COUNT_DIGITS, good);
  cw_json_text(object, "person", reading->person ? reading->person : who, good);
  cw_json_text(object, "words", words, good);
  json_t *places = json_array();
  for (size_t i = 0; i < reading->n_places; i++) {
    *good = json_array_append_new(places, place_value(&reading->place[i], good)) == 0 && *good;
  }
  cw_json_put(object, "places", places, good);
  cw_json_flag(object, "open_start", reading->open_start, good);
  cw_json_flag(object, "open_end", reading->open_end, good);
  cw_json_text(object, "line", path ? line_word[reading->line] : NULL, good);
  cw_json_text(object, "bend", bend_word[reading->bend], good);
  cw_json_text(object, "facing", reading->kind == CW_STAGE_FACING ? direction_word[reading->facing % 8] : NULL, good);
  free(words);
  return object;
}

/// @param who Is meant where nobody is named; may be NULL. @param count NaN for a remark.
static void put_readings(json_t *list, const char *text, const char *who, double count, bool *good)
{
  CwStageReadings readings;
  *good = cw_stage_read(text, NULL, &readings) == CW_OK && *good;
  for (size_t i = 0; i < readings.n; i++) {
    *good = json_array_append_new(list, reading_value(&readings.reading[i], who, count, good)) == 0 && *good;
  }
  cw_stage_readings_free(&readings);
}

static void put_steps(json_t *list, const CwStep *step, size_t n, const char *remark, const char *who, bool *good)
{
  if (remark) {
    put_readings(list, remark, who, NAN, good);
  }
  for (size_t i = 0; i < n; i++) {
    put_readings(list, step[i].text, who, step[i].count, good);
  }
}

json_t *cw_stage_value(const CwSheetRow *row, bool *good)
{
  json_t *list = json_array();
  put_steps(list, row->step, row->n_steps, row->remark, NULL, good);
  for (size_t i = 0; i < row->n_parts; i++) {
    const CwSheetPart *part = &row->part[i];
    put_steps(list, part->step, part->n_steps, part->remark, part->role, good);
  }
  return list;
}
