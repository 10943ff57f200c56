// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/print.h"
#include "print/json.h"

enum { DRIFT_VERSION = 2 };

/// What is said of one recording where phrases are compared.
static json_t *other_value(const CwDriftRow *row, bool *good)
{
  json_t *object = json_object();
  cw_json_flag(object, "in_it", row->present, good);
  cw_json_number(object, "start_s", row->b_start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "end_s", row->b_end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "counts_per_min", row->b_counts_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "percent", row->percent, CW_PERCENT_DIGITS, good);
  cw_json_flag(object, "same", fabs(row->percent) < CW_JUST_NOTICEABLE_PERCENT, good);
  cw_json_number(object, "ahead_s", row->ahead_s, CW_TIME_DIGITS, good);
  return object;
}

static json_t *season_value(const CwSeason *season, bool *good)
{
  json_t *object = json_object();
  cw_json_whole(object, "recordings", season->n, good);
  cw_json_number(object, "slowest_per_min", season->slowest, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "median_per_min", season->median, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "fastest_per_min", season->fastest, CW_TEMPO_DIGITS, good);
  return object;
}

static void append(json_t *array, json_t *value, bool *good)
{
  if (json_array_append_new(array, value) != 0) {
    *good = false;
  }
}

static json_t *phrase_value(const CwDriftTable *table, size_t i, const CwSeason *season, bool *good)
{
  const CwDriftRow *row = &table->other[0].drift.row[i];
  json_t *object = json_object();
  cw_json_whole(object, "number", row->number, good);
  cw_json_text(object, "section", table->section ? table->section[i] : NULL, good);
  cw_json_whole(object, "counts", row->counts, good);
  cw_json_number(object, "start_s", row->a_start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "end_s", row->a_end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "counts_per_min", row->a_counts_per_min, CW_TEMPO_DIGITS, good);
  json_t *others = json_array();
  for (size_t o = 0; o < table->n; o++) {
    append(others, other_value(&table->other[o].drift.row[i], good), good);
  }
  cw_json_put(object, "others", others, good);
  cw_json_put(object, "season", season_value(&season[i], good), good);
  return object;
}

static json_t *whole_value(const CwDriftTable *table, const CwSeason *season, bool *good)
{
  json_t *object = json_object();
  json_t *others = json_array();
  for (size_t o = 0; o < table->n; o++) {
    const CwDriftRow whole = cw_drift_whole(&table->other[o].drift);
    append(others, other_value(&whole, good), good);
  }
  cw_json_put(object, "others", others, good);
  cw_json_put(object, "season", season_value(season, good), good);
  return object;
}

static json_t *names_of(const CwDriftTable *table, bool *good)
{
  json_t *others = json_array();
  for (size_t o = 0; o < table->n; o++) {
    json_t *name = json_object();
    cw_json_text(name, "name", table->other[o].name, good);
    cw_json_number(name, "heard_later_s", table->other[o].map ? table->other[o].map->offset_s : (double)NAN,
                   CW_TIME_DIGITS, good);
    cw_json_number(name, "tuned_higher_cents", table->other[o].map ? table->other[o].map->tuning_cents : (double)NAN, 0,
                   good);
    append(others, name, good);
  }
  return others;
}

CwStatus cw_drift_json(const CwDriftTable *table, FILE *out)
{
  const size_t n = table->other[0].drift.n;
  CwSeason whole;
  CwSeason *season = cw_new(n, sizeof *season);
  bool good = season && !cw_drift_season(table, season) && !cw_drift_season_whole(table, &whole);
  if (!good) {
    free(season);
    return CW_ERR_NO_MEM;
  }
  json_t *root = cw_json_begin("countwright-drift", &good);
  cw_json_whole(root, "version", DRIFT_VERSION, &good);
  cw_json_text(root, "first", table->name, &good);
  cw_json_put(root, "others", names_of(table, &good), &good);
  cw_json_messages(root, "summary", table->summary, &good);
  json_t *phrases = json_array();
  for (size_t i = 0; i < n; i++) {
    append(phrases, phrase_value(table, i, season, &good), &good);
  }
  cw_json_put(root, "phrases", phrases, &good);
  cw_json_put(root, "whole", whole_value(table, &whole, &good), &good);
  free(season);
  return cw_json_end(root, good, out);
}
