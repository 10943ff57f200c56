// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/routes.h"

#include <string.h>

#include "desk/desk.h"

#define KIB ((uint64_t)1 << 10)
#define MIB ((uint64_t)1 << 20)

static const DeskRoute route[] = {
    {"GET", "/", desk_get_page, DESK_NO_BODY, 0},
    {"GET", "/page/*", desk_get_part, DESK_NO_BODY, 0},
    {"GET", "/events", desk_get_events, DESK_NO_BODY, 0},
    {"GET", "/shelf", desk_get_shelf, DESK_NO_BODY, 0},
    {"GET", "/recording", desk_get_recording, DESK_NO_BODY, 0},
    {"GET", "/piece", desk_get_piece, DESK_NO_BODY, 0},
    {"GET", "/beats", desk_get_beats, DESK_NO_BODY, 0},
    {"GET", "/peaks", desk_get_peaks, DESK_NO_BODY, 0},
    {"PUT", "/notes", desk_put_notes, DESK_JSON_BODY, 16 * MIB},
    {"PUT", "/taps", desk_put_taps, DESK_JSON_BODY, MIB},
    {"POST", "/step", desk_post_step, DESK_JSON_BODY, 4 * KIB},
    {"POST", "/correction", desk_post_correction, DESK_JSON_BODY, 4 * KIB},
    {"GET", "/sheet", desk_get_sheet, DESK_NO_BODY, 0},
    {"GET", "/spelling", desk_get_spelling, DESK_NO_BODY, 0},
    {"GET", "/plan", desk_get_plan, DESK_NO_BODY, 0},
    {"POST", "/stage", desk_post_stage, DESK_JSON_BODY, MIB},
    {"POST", "/recordings", desk_post_recording, DESK_FILE_BODY, 2048 * MIB},
    {"POST", "/compare", desk_post_compare, DESK_JSON_BODY, 16 * KIB},
    {"GET", "/compared", desk_get_compared, DESK_NO_BODY, 0},
    {"GET", "/chart", desk_get_chart, DESK_NO_BODY, 0},
    {"POST", "/practice", desk_post_practice, DESK_JSON_BODY, 4 * KIB},
    {"GET", "/practice", desk_get_practice, DESK_NO_BODY, 0},
    {"POST", "/stop", desk_post_stop, DESK_JSON_BODY, KIB},
};
enum { N_ROUTES = sizeof route / sizeof route[0] };

static bool has_path(const DeskRoute *row, const char *path)
{
  const size_t length = strlen(row->path);
  return row->path[length - 1] == '*' ? strncmp(row->path, path, length - 1) == 0 : strcmp(row->path, path) == 0;
}

/// The row of a request; NULL when there is none, then it is answered.
static const DeskRoute *find(const DeskRequest *request, DeskResponse *response)
{
  const char *method = strcmp(request->method, "HEAD") == 0 ? "GET" : request->method;
  bool other_method = false;
  for (size_t i = 0; i < N_ROUTES; i++) {
    if (has_path(&route[i], request->path)) {
      if (strcmp(route[i].method, method) == 0) {
        return &route[i];
      }
      other_method = true;
    }
  }
  desk_answer_problem(response, other_method ? 405 : 404, other_method ? "not in this way" : "there is no such page");
  return NULL;
}

/// Whether the content is of the type that the route wants, and not too long.
static bool fits(const DeskRoute *row, const DeskRequest *request, uint64_t length, DeskResponse *response)
{
  static const char *const type[] = {
      [DESK_JSON_BODY] = "application/json", [DESK_FILE_BODY] = "application/octet-stream"};
  if (row->body == DESK_NO_BODY) {
    const bool none = length == 0 || length == UINT64_MAX;
    if (!none) {
      desk_answer_problem(response, 400, "expected no content");
    }
    return none;
  }
  if (!request->type || strcmp(request->type, type[row->body]) != 0) {
    desk_answer_problem(response, 415, "expected content of type %s", type[row->body]);
    return false;
  }
  if (length == UINT64_MAX) {
    desk_answer_problem(response, 411, "expected the length of the content");
    return false;
  }
  if (length > row->most_bytes) {
    desk_answer_problem(response, 413, "too long: at most %llu bytes", (unsigned long long)row->most_bytes);
    return false;
  }
  return true;
}

const DeskRoute *desk_admit(CwDesk *desk, const DeskRequest *request, uint64_t content_length, DeskResponse *response)
{
  if (!desk_guard_place(&desk->guard, request, response) || !desk_guard_person(&desk->guard, request, response)) {
    return NULL;
  }
  const DeskRoute *row = find(request, response);
  return row && fits(row, request, content_length, response) ? row : NULL;
}
