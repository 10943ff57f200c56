// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "stage/place.h"

/// Where a place is on the grid of names: -1 stage right or front, 0, +1.
typedef struct {
  int side;
  int depth;
  bool centred; ///< between centre and side
} Grid;

static Grid grid_of(const CwPlace *place)
{
  const double x = fabs(place->x);
  Grid grid = {.side = place->x < 0 ? -1 : 1, .depth = place->y < 1.0 / 3 ? -1 : place->y > 2.0 / 3};
  grid.side = !place->x_said || x < CW_CENTRED_AREA_X / 2 ? 0 : grid.side;
  grid.depth = place->y_said ? grid.depth : 0;
  grid.centred = x < (CW_CENTRED_AREA_X + CW_SIDE_AREA_X) / 2;
  return grid;
}

static const char *area_name(const CwPlace *place, Grid grid)
{
  static const char *const name[3][3] = {{"DSR", "DSC", "DSL"}, {"CSR", "C", "CSL"}, {"USR", "USC", "USL"}};
  static const char *const between[3][3] = {{"DRC", "DSC", "DLC"}, {"RC", "C", "LC"}, {"URC", "USC", "ULC"}};
  static const char *const depth[3] = {"DS", "midstage", "US"};
  if (!place->x_said) {
    return depth[grid.depth + 1];
  }
  if (grid.side && grid.centred) {
    return between[grid.depth + 1][grid.side + 1];
  }
  if (!place->y_said) {
    return grid.side < 0 ? "SR" : grid.side > 0 ? "SL" : "centre line";
  }
  return name[grid.depth + 1][grid.side + 1];
}

const char *cw_place_name(const CwPlace *place, char name[CW_PLACE_ROOM])
{
  static const char *const before[3] = {"DS ", "midstage ", "US "};
  const Grid grid = grid_of(place);
  const char *side = !place->x_said || grid.side == 0 ? "" : grid.side < 0 ? " SR" : " SL";
  const char *depth = place->y_said ? before[grid.depth + 1] : "";
  const char *mark = place->spot == CW_SPOT_QUARTER ? "quarter" : "eighth";
  switch (place->spot) {
  case CW_SPOT_WING:
    if (place->wing) {
      snprintf(name, CW_PLACE_ROOM, "wing %u%s", place->wing, side);
    } else {
      snprintf(name, CW_PLACE_ROOM, "%swing%s", depth, side);
    }
    break;
  case CW_SPOT_QUARTER:
  case CW_SPOT_EIGHTH:
    if (!*side) {
      snprintf(name, CW_PLACE_ROOM, "%s%s mark", depth, mark);
    } else if (*depth) {
      snprintf(name, CW_PLACE_ROOM, "%s%s%s", depth, mark, side);
    } else {
      snprintf(name, CW_PLACE_ROOM, "%s %s", side + 1, mark);
    }
    break;
  case CW_SPOT_AREA:
    snprintf(name, CW_PLACE_ROOM, "%s", area_name(place, grid));
    break;
  }
  return name;
}

/// Text that grows; `text` is NULL once memory has run out.
typedef struct {
  char *text;
  size_t size;
} Words;

/// Add a word, after a blank when there is one already.
static void add(Words *words, const char *word)
{
  const size_t length = strlen(word);
  char *grown = words->text ? cw_resize(words->text, words->size + length + 2, 1) : NULL;
  if (!grown) {
    free(words->text);
    words->text = NULL;
    return;
  }
  words->text = grown;
  if (words->size > 0 && length > 0) {
    grown[words->size++] = ' ';
  }
  memcpy(grown + words->size, word, length + 1);
  words->size += length;
}

static void add_path(Words *words, const CwStageReading *reading)
{
  static const char *const line[] = {"", "diagonal", "curve"};
  static const char *const bend[] = {"", "left", "right"};
  char name[CW_PLACE_ROOM];
  add(words, line[reading->line]);
  add(words, reading->line == CW_LINE_CURVE ? bend[reading->bend] : "");
  const bool parted = reading->line == CW_LINE_CURVE && reading->bend; // "left wing 3" would be a place
  const bool from = reading->open_end || (parted && !reading->open_start);
  add(words, reading->n_places == 0 ? "" : from ? "from" : reading->open_start ? "to" : "");
  for (size_t i = 0; i < reading->n_places; i++) {
    add(words, i ? ">" : "");
    add(words, cw_place_name(&reading->place[i], name));
  }
}

static void add_circle(Words *words, const CwStageReading *reading)
{
  char name[CW_PLACE_ROOM];
  add(words, "circle");
  add(words, reading->bend == CW_BEND_LEFT ? "left" : reading->bend == CW_BEND_RIGHT ? "right" : "");
  if (reading->n_places > 0) {
    add(words, "round");
    add(words, cw_place_name(&reading->place[0], name));
  }
}

CwStatus cw_stage_write(const CwStageReading *reading, char **text)
{
  static const char *const direction[] = {"DS", "DSL", "SL", "USL", "US", "USR", "SR", "DSR"};
  char name[CW_PLACE_ROOM];
  Words words = {.text = cw_copy_text("", 0)};
  if (reading->person) {
    add(&words, "o");
    add(&words, reading->person);
  }
  switch (reading->kind) {
  case CW_STAGE_AT:
    add(&words, reading->person ? "" : "at");
    add(&words, reading->n_places ? cw_place_name(&reading->place[0], name) : "");
    break;
  case CW_STAGE_PATH:
    add_path(&words, reading);
    break;
  case CW_STAGE_CIRCLE:
    add_circle(&words, reading);
    break;
  case CW_STAGE_FACING:
    add(&words, "facing");
    add(&words, direction[reading->facing % 8]);
    break;
  }
  *text = words.text;
  return words.text ? CW_OK : CW_ERR_NO_MEM;
}

/// Move `best` to a candidate when it is nearer.
static void try_place(CwPlace candidate, double x, double y, CwPlace *best, double *least)
{
  const double distance = hypot(candidate.x - x, candidate.y - y);
  if (distance < *least) {
    *least = distance;
    *best = candidate;
  }
}

CwPlace cw_place_nearest(double x, double y)
{
  static const double depth[] = {CW_DOWN_Y, CW_MIDDLE_Y, CW_UP_Y};
  CwPlace best = {.x_said = true, .y = CW_MIDDLE_Y, .y_said = true};
  double least = INFINITY;
  for (int row = 0; row < 3; row++) {
    for (int side = -1; side <= 1; side++) {
      const bool depth_said = row != 1 || side == 0;
      const CwPlace area = {side * CW_SIDE_AREA_X, depth[row], true, depth_said, CW_SPOT_AREA, 0, 0, 0};
      try_place(area, x, y, &best, &least);
      if (side != 0) {
        const CwPlace quarter = {side * CW_QUARTER_X, depth[row], true, depth_said, CW_SPOT_QUARTER, 0, 0, 0};
        const CwPlace eighth = {side * CW_EIGHTH_X, depth[row], true, depth_said, CW_SPOT_EIGHTH, 0, 0, 0};
        try_place(quarter, x, y, &best, &least);
        try_place(eighth, x, y, &best, &least);
      }
    }
  }
  for (unsigned wing = 1; wing <= CW_WINGS_USUAL; wing++) {
    for (int side = -1; side <= 1; side += 2) {
      const double at = cw_wing_y(wing, CW_WINGS_USUAL);
      try_place((CwPlace){side * CW_WING_X, at, true, true, CW_SPOT_WING, wing, 0, 0}, x, y, &best, &least);
    }
  }
  return best;
}

void cw_place_mirror(CwPlace *place)
{
  place->x = place->x == 0 ? 0 : -place->x; // no -0
}

void cw_stage_mirror(CwStageReading *reading)
{
  for (size_t i = 0; i < reading->n_places; i++) {
    cw_place_mirror(&reading->place[i]);
  }
  reading->facing = (8 - reading->facing) % 8;
  if (reading->bend != CW_BEND_UNKNOWN) {
    reading->bend = reading->bend == CW_BEND_LEFT ? CW_BEND_RIGHT : CW_BEND_LEFT;
  }
}
