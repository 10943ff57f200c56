// SPDX-License-Identifier: GPL-3.0-or-later
/// Recordings of the folder compared, on the thread that listens.
#include "desk/compare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/drift.h"
#include "countwright/measure.h"
#include "countwright/print.h"
#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/routes.h"

enum { MOST_OTHERS = 12 };

/// A comparison under way.
typedef struct {
  CwDesk *desk;
  char name[DESK_NAME];
  char recording[DESK_NAME];
  char wanted[MOST_OTHERS][DESK_NAME];
  size_t n_wanted;
  CwCountLine line;
  CwAlignFeatures *features; ///< of the first
  CwDriftOther other[MOST_OTHERS];
  CwTimeMap map[MOST_OTHERS];
  size_t n;
  CwMessages summary;
} Comparing;

void desk_compared_free(DeskCompared *compared)
{
  free(compared->text);
  free(compared->chart);
  *compared = (DeskCompared){0};
}

static bool progress(void *user, const char *stage, double fraction)
{
  (void)stage;
  (void)fraction;
  const Comparing *c = user;
  return !desk_work_is_over(&c->desk->work);
}

static CwStatus measure(Comparing *c, const char *recording, const CwReport *report, CwAlignFeatures **features)
{
  char path[40];
  const int fd = desk_open_file(c->desk->place.folder, recording, NULL);
  *features = NULL;
  if (fd < 0) {
    return CW_ERR_NOT_FOUND;
  }
  snprintf(path, sizeof path, "/proc/self/fd/%d", fd);
  const CwStatus status = cw_measure(path, c->desk->cache, report, NULL, features);
  close(fd);
  return status;
}

/// Follow the music into one other recording; what goes wrong is told among the rest.
static CwStatus compare_one(Comparing *c, const char *recording, const CwReport *report)
{
  CwAlignFeatures *features = NULL;
  CwTimeMap *map = &c->map[c->n];
  CwDriftOther *other = &c->other[c->n];
  CwStatus status = measure(c, recording, report, &features);
  if (status == CW_OK) {
    status = cw_align(c->features, features, report, map);
  }
  if (status == CW_OK) {
    *other = (CwDriftOther){.name = recording, .map = map};
    status = cw_drift_by_map(&c->line, map, &other->drift);
    c->n++;
  }
  cw_align_features_free(features);
  if (status == CW_OK || status == CW_ERR_NO_MEM || status == CW_ERR_CANCELLED) {
    return status;
  }
  return cw_messages_add(&c->summary, "%s: %s", recording, cw_strerror(status));
}

static json_t *number(double x)
{
  return isfinite(x) ? json_real(x) : json_null();
}

static json_t *rows_of(const CwDrift *drift)
{
  json_t *rows = json_array();
  for (size_t i = 0; i < drift->n; i++) {
    const CwDriftRow *row = &drift->row[i];
    json_array_append_new(rows, json_pack("{s:I, s:o, s:o, s:o, s:o, s:o, s:o}", "number", (json_int_t)row->number,
                                          "a_start_s", number(row->a_start_s), "a_end_s", number(row->a_end_s),
                                          "b_start_s", number(row->b_start_s), "b_end_s", number(row->b_end_s),
                                          "percent", number(row->percent), "ahead_s", number(row->ahead_s)));
  }
  return rows;
}

static json_t *to_json(const Comparing *c, unsigned turn, CwStatus status)
{
  json_t *others = json_array();
  json_t *summary = json_array();
  for (size_t i = 0; i < c->n; i++) {
    json_array_append_new(others,
                          json_pack("{s:s, s:o}", "name", c->other[i].name, "rows", rows_of(&c->other[i].drift)));
  }
  for (size_t i = 0; i < c->summary.n; i++) {
    json_array_append_new(summary, json_string(c->summary.text[i]));
  }
  json_t *json = json_pack("{s:I, s:o, s:o}", "turn", (json_int_t)turn, "others", others, "summary", summary);
  if (status != CW_OK) {
    json_object_set_new(json, "problem", json_string(cw_strerror(status)));
  } else if (c->n == 0) {
    json_object_set_new(json, "problem", json_string(c->summary.n ? c->summary.text[0] : "nothing was compared"));
  }
  return json;
}

/// Keep what came of it, in the place of what was there.
static void keep(const Comparing *c, const CwDriftTable *table, CwStatus status)
{
  DeskCompared made = {0};
  FILE *out = table ? open_memstream(&made.chart, &made.chart_size) : NULL;
  if (out && (cw_drift_chart(table, CW_CHART_SVG, out) != CW_OK) + (fclose(out) != 0) > 0) {
    free(made.chart);
    made.chart = NULL;
  }
  snprintf(made.name, sizeof made.name, "%s", c->name);
  CwDesk *desk = c->desk;
  pthread_mutex_lock(&desk->lock);
  made.turn = desk->compared.turn + 1;
  json_t *json = to_json(c, made.turn, status);
  made.text = json_dumps(json, JSON_COMPACT | JSON_REAL_PRECISION(9));
  json_decref(json);
  desk_compared_free(&desk->compared);
  desk->compared = made;
  pthread_mutex_unlock(&desk->lock);
  desk_events_tell(&desk->events, json_pack("{s:s, s:s}", "what", "compared", "name", c->name));
}

static void run(void *user)
{
  Comparing *c = user;
  const CwReport report = {.progress = progress, .user = c};
  CwStatus status = measure(c, c->recording, &report, &c->features);
  for (size_t i = 0; i < c->n_wanted && status == CW_OK; i++) {
    status = compare_one(c, c->wanted[i], &report);
  }
  CwDriftTable table = {.name = c->recording, .other = c->other, .n = c->n, .summary = &c->summary};
  if (status == CW_OK && c->n > 0) {
    status = cw_drift_summary(&table, &c->summary);
  }
  keep(c, status == CW_OK && c->n > 0 ? &table : NULL, status);
  for (size_t i = 0; i < c->n; i++) {
    cw_drift_free(&c->other[i].drift);
    cw_time_map_free(&c->map[i]);
  }
  cw_align_features_free(c->features);
  cw_count_line_free(&c->line);
  cw_messages_free(&c->summary);
  free(c);
}

/// Take the names of the other recordings. @return Whether there are some, and all may be asked for.
static bool take_names(Comparing *c, const json_t *names)
{
  c->n_wanted = json_array_size(names);
  if (c->n_wanted == 0 || c->n_wanted > MOST_OTHERS) {
    return false;
  }
  for (size_t i = 0; i < c->n_wanted; i++) {
    const char *name = json_string_value(json_array_get(names, i));
    if (!desk_is_name(name) || desk_kind_of(name) != DESK_RECORDING) {
      return false;
    }
    snprintf(c->wanted[i], sizeof c->wanted[i], "%s", name);
  }
  return true;
}

/// Begin with what the piece has. @return Whether it was begun; else it is answered.
static bool begin(CwDesk *desk, const json_t *body, Comparing *c, DeskResponse *response)
{
  const DeskPiece *piece = desk_piece_asked(desk, desk_text_of(body, "name"), response);
  if (!piece) {
    return false;
  }
  if (!take_names(c, json_object_get(body, "others"))) {
    desk_answer_problem(response, 400, "expected one to %d recordings", MOST_OTHERS);
    return false;
  }
  if (piece->state != DESK_READY || cw_count_line_copy(&piece->line, &c->line) != CW_OK) {
    desk_answer_problem(response, 409, "the music is not counted yet");
    return false;
  }
  c->desk = desk;
  snprintf(c->name, sizeof c->name, "%s", piece->name);
  snprintf(c->recording, sizeof c->recording, "%s", piece->recording);
  if (!desk_work_add(&desk->work, (DeskTask){run, c})) {
    cw_count_line_free(&c->line);
    desk_answer_problem(response, 503, "too much is asked at once");
    return false;
  }
  desk_answer_json(response, 202, json_object());
  return true;
}

void desk_post_compare(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  Comparing *c = cw_new(1, sizeof *c);
  pthread_mutex_lock(&desk->lock);
  if (!c || !begin(desk, body, c, response)) {
    free(c);
  }
  pthread_mutex_unlock(&desk->lock);
  json_decref(body);
}

/// What was compared last, when it was this piece; the lock is held.
static const DeskCompared *compared(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  const char *name = desk_query(request, "name");
  if (!name || !desk->compared.text || strcmp(desk->compared.name, name) != 0) {
    desk_answer_problem(response, 404, "nothing was compared");
    return NULL;
  }
  return &desk->compared;
}

void desk_get_compared(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  pthread_mutex_lock(&desk->lock);
  const DeskCompared *c = compared(desk, request, response);
  if (c) {
    desk_answer_text(response, "application/json", cw_copy_text(c->text, strlen(c->text)), strlen(c->text));
  }
  pthread_mutex_unlock(&desk->lock);
}

void desk_get_chart(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  pthread_mutex_lock(&desk->lock);
  const DeskCompared *c = compared(desk, request, response);
  if (c && c->chart) {
    desk_answer_text(response, "image/svg+xml", cw_copy_text(c->chart, c->chart_size), c->chart_size);
  } else if (c) {
    desk_answer_problem(response, 404, "there is no chart");
  }
  pthread_mutex_unlock(&desk->lock);
}
