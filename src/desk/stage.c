// SPDX-License-Identifier: GPL-3.0-or-later
/// The stage on the page: a way drawn by hand becomes words, and words become a plan.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/stage.h"
#include "countwright/stage_plan.h"
#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/routes.h"

enum { MOST_POINTS = 5000 };

/// A bend of a drawn way that is less than this, in halves of the stage, is a hand's and not meant.
static const double straight_enough = 0.14;
static const double plan_width = 240;

typedef struct {
  double x, y;
} Point;

/// How far a point lies from the line between two others.
static double distance(Point p, Point a, Point b)
{
  const double dx = b.x - a.x;
  const double dy = 2 * (b.y - a.y); // the stage is two wide and one deep
  const double length2 = dx * dx + dy * dy;
  const double px = p.x - a.x;
  const double py = 2 * (p.y - a.y);
  const double t = length2 > 0 ? fmin(fmax((px * dx + py * dy) / length2, 0), 1) : 0;
  return hypot(px - t * dx, py - t * dy);
}

/// Keep the points at which a way turns (Ramer 1972, Douglas and Peucker 1973); without recursion, as ways may be long.
static void find_turns(const Point *point, size_t n, bool *kept, size_t *stack)
{
  size_t depth = 0;
  kept[0] = kept[n - 1] = true;
  stack[depth++] = 0;
  stack[depth++] = n - 1;
  while (depth > 0) {
    const size_t b = stack[--depth];
    const size_t a = stack[--depth];
    size_t farthest = a;
    double most = straight_enough;
    for (size_t i = a + 1; i < b; i++) {
      const double d = distance(point[i], point[a], point[b]);
      if (d > most) {
        most = d;
        farthest = i;
      }
    }
    if (farthest > a) {
      kept[farthest] = true;
      stack[depth++] = a;
      stack[depth++] = farthest;
      stack[depth++] = farthest;
      stack[depth++] = b;
    }
  }
}

static bool same_place(const CwPlace *a, const CwPlace *b)
{
  return a->x == b->x && a->y == b->y;
}

/// Write a drawn way in the words of the notes: places by their names, "DSL > C > USR".
static CwStatus write_way(const Point *point, size_t n, char **words)
{
  bool *kept = cw_new(n, sizeof *kept);
  size_t *stack = cw_new(4 * n + 8, sizeof *stack);
  CwPlace *place = cw_new(n, sizeof *place);
  CwStatus status = kept && stack && place ? CW_OK : CW_ERR_NO_MEM;
  *words = NULL;
  if (status == CW_OK) {
    find_turns(point, n, kept, stack);
    CwStageReading reading = {.kind = CW_STAGE_AT, .place = place};
    for (size_t i = 0; i < n; i++) {
      const CwPlace next = cw_place_nearest(point[i].x, point[i].y);
      if (kept[i] && (reading.n_places == 0 || !same_place(&place[reading.n_places - 1], &next))) {
        place[reading.n_places++] = next;
      }
    }
    reading.kind = reading.n_places > 1 ? CW_STAGE_PATH : CW_STAGE_AT;
    status = cw_stage_write(&reading, words);
  }
  free(kept);
  free(stack);
  free(place);
  return status;
}

/// The points of a request. @return How many; 0 when it has none that can be. @param[out] point Release with free().
static size_t read_points(const json_t *list, Point **point)
{
  const size_t n = json_array_size(list);
  *point = n > 0 && n <= MOST_POINTS ? cw_new(n, sizeof **point) : NULL;
  for (size_t i = 0; *point && i < n; i++) {
    const json_t *pair = json_array_get(list, i);
    const json_t *x = json_array_get(pair, 0);
    const json_t *y = json_array_get(pair, 1);
    if (!json_is_number(x) || !json_is_number(y)) {
      return 0;
    }
    (*point)[i] = (Point){fmin(fmax(json_number_value(x), -1.5), 1.5), fmin(fmax(json_number_value(y), 0), 1)};
  }
  return *point ? n : 0;
}

void desk_post_stage(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  (void)desk;
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  Point *point = NULL;
  const size_t n = read_points(json_object_get(body, "points"), &point);
  char *words = NULL;
  const CwStatus status = n > 0 ? write_way(point, n, &words) : CW_OK;
  if (n == 0) {
    desk_answer_problem(response, 400, "expected points of the stage");
  } else if (status == CW_OK) {
    desk_answer_json(response, 200, json_pack("{s:s}", "words", words));
  } else {
    desk_answer_status(response, NULL, status);
  }
  free(point);
  free(words);
  json_decref(body);
}

/// The plan of a phrase after all those before it. @param[out] plan Release with cw_stage_plan_free().
static CwStatus make_plan(const CwNotebook *notebook, size_t phrase, CwStagePlan *plan)
{
  CwStagePlan where = {0};
  CwStatus status = CW_OK;
  *plan = (CwStagePlan){0};
  for (size_t p = 0; p <= phrase && status == CW_OK; p++) {
    const CwNotePhrase *is = &notebook->phrase[p];
    cw_stage_plan_free(plan);
    status = cw_stage_plan_make(is->step, is->n_steps, is->remark, is->role, &where, plan);
    for (size_t k = 0; k < is->n_parts && status == CW_OK; k++) {
      const CwNotePart *part = &is->part[k];
      status = cw_stage_plan_add(part->step, part->n_steps, part->remark, part->role, &where, plan);
    }
    status = status == CW_OK && p < phrase ? cw_stage_plan_go_on(plan, &where) : status;
  }
  cw_stage_plan_free(&where);
  return status;
}

static void draw_plan(const DeskPiece *piece, size_t phrase, DeskResponse *response)
{
  CwStagePlan plan;
  char *text = NULL;
  size_t size = 0;
  CwStatus status = make_plan(&piece->notebook, phrase, &plan);
  const bool shows = status == CW_OK && cw_stage_plan_shows(&plan);
  FILE *out = shows ? open_memstream(&text, &size) : NULL;
  if (shows) {
    status = out ? cw_stage_plan_svg(&plan, plan_width, NULL, out) : CW_ERR_NO_MEM;
  }
  if (out && fclose(out) != 0) {
    status = CW_ERR_NO_MEM;
  }
  cw_stage_plan_free(&plan);
  if (status != CW_OK) {
    free(text);
    desk_answer_status(response, piece->name, status);
  } else if (shows) {
    desk_answer_text(response, "image/svg+xml", text, size);
  } else {
    desk_answer_problem(response, 404, "the notes of that phrase name no place");
  }
}

void desk_get_plan(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  uint64_t phrase = 0;
  pthread_mutex_lock(&desk->lock);
  const DeskPiece *piece = desk_piece_asked(desk, desk_query(request, "name"), response);
  if (piece && !desk_query_number(request, "phrase", 0, 1000000, &phrase)) {
    desk_answer_problem(response, 400, "expected a phrase");
  } else if (piece && phrase >= piece->notebook.n_phrases) {
    desk_answer_problem(response, 404, "there is no such phrase");
  } else if (piece) {
    draw_plan(piece, (size_t)phrase, response);
  }
  pthread_mutex_unlock(&desk->lock);
}
