// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/place.h"
#include "stage/reader.h"
#include "stage/stage_lists.h"

#include <stdlib.h>

#include "base/memory.h"

/// Tokens between a path and the "diagonal" that says how it goes.
enum { SHAPE_REACH = 3 };

static bool is_upper(const CwTokens *tokens, size_t i)
{
  return i < tokens->n && tokens->token[i].written == CW_CASE_UPPER;
}

/// The side that token `i` says. @param[out] next Token after it.
static CwBend bend_at(const CwTokens *tokens, size_t i, size_t *next)
{
  static const char *const left[] = {"left", "leftwards", "gauche", "anticlockwise", "counterclockwise", "ccw", NULL};
  static const char *const right[] = {"right", "rightwards", "droite", "clockwise", "clockwards", "cw", NULL};
  const bool letter = is_upper(tokens, i);
  *next = i + 1;
  if (cw_token_in(tokens, i, left) || (letter && cw_token_is(tokens, i, "l"))) {
    return CW_BEND_LEFT;
  }
  if (cw_token_in(tokens, i, right) || (letter && cw_token_is(tokens, i, "r"))) {
    return CW_BEND_RIGHT;
  }
  const bool hyphen = cw_token_is(tokens, i + 1, "-");
  *next = i + 3;
  if (hyphen && cw_token_is(tokens, i + 2, "clockwise") &&
      (cw_token_is(tokens, i, "anti") || cw_token_is(tokens, i, "counter"))) {
    return CW_BEND_LEFT;
  }
  return hyphen && cw_token_is(tokens, i, "clock") &&
                 (cw_token_is(tokens, i + 2, "wise") || cw_token_is(tokens, i + 2, "wards"))
             ? CW_BEND_RIGHT
             : CW_BEND_UNKNOWN;
}

/// The side that follows a curve or circle, over "to the" and a comma. @param[in,out] next Moves behind it.
static CwBend bend_after(const CwTokens *tokens, size_t *next)
{
  static const char *const skipped[] = {"to", "the", "a", "la", "on", ",", "vers", NULL};
  size_t i = *next;
  while (i < *next + 3 && cw_token_in(tokens, i, skipped)) {
    i++;
  }
  size_t after;
  const CwBend bend = bend_at(tokens, i, &after);
  CwPlace place;
  size_t place_next;
  if (bend != CW_BEND_UNKNOWN && !cw_place_read(tokens, i, &place, &place_next)) { // "to L2" is a wing
    *next = after;
    return bend;
  }
  return CW_BEND_UNKNOWN;
}

static CwBend bend_before(const CwTokens *tokens, size_t *first)
{
  size_t next;
  if (*first > 2 && cw_token_is(tokens, *first - 1, "a") && cw_token_is(tokens, *first - 2, "in")) {
    const CwBend bend = bend_at(tokens, *first - 3, &next);
    if (bend != CW_BEND_UNKNOWN && next == *first - 2) { // "clockwise in a circle"
      *first -= 3;
      return bend;
    }
  }
  for (size_t back = 1; back <= 3 && back <= *first; back += 2) {
    const CwBend bend = bend_at(tokens, *first - back, &next);
    if (bend != CW_BEND_UNKNOWN && next == *first) {
      *first -= back;
      return bend;
    }
  }
  return CW_BEND_UNKNOWN;
}

/// Whether a circle or a diagonal at `i` is made by an arm or a hip.
static bool is_of_limbs(const CwTokens *tokens, size_t i)
{
  static const char *const articles[] = {"the", "your", "both", "his", "her", "les", NULL};
  const size_t after = i + 1 + cw_token_in(tokens, i + 1, articles);
  return (i > 0 && cw_token_in(tokens, i - 1, cw_limb_words)) || cw_token_in(tokens, after, cw_limb_words) ||
         cw_token_is(tokens, i + 1, "of");
}

static CwStatus give_place(CwStageReading *reading, const CwPlace *place)
{
  reading->place = cw_new(1, sizeof *reading->place);
  if (!reading->place) {
    return CW_ERR_NO_MEM;
  }
  *reading->place = *place;
  reading->n_places = 1;
  return CW_OK;
}

static size_t read_circle(CwReader *reader, size_t i)
{
  static const char *const around[] = {"round", "around", "about", "autour", NULL};
  const CwTokens *tokens = reader->tokens;
  CwStageReading circle = {.kind = CW_STAGE_CIRCLE};
  size_t first = i;
  size_t next = i + 1;
  circle.bend = bend_after(tokens, &next);
  circle.bend = circle.bend ? circle.bend : bend_before(tokens, &first);
  CwPlace place;
  size_t after = next + 1 + cw_token_is(tokens, next + 1, "the");
  cw_reader_flush(reader);
  if (cw_token_in(tokens, next, around) && cw_place_read(tokens, after, &place, &after)) {
    reader->full = give_place(&circle, &place) != CW_OK;
    next = after;
    circle.bend = circle.bend ? circle.bend : bend_after(tokens, &next);
  }
  if (!reader->full) {
    cw_reader_add(reader, &circle, first, next);
  }
  return next - i;
}

/// A path of which only the shape is known so far; or the shape of the path that is open.
static size_t read_line(CwReader *reader, size_t i, size_t next, CwPathLine line)
{
  const CwTokens *tokens = reader->tokens;
  size_t first = i;
  CwBend bend = CW_BEND_UNKNOWN;
  if (line == CW_LINE_CURVE) {
    bend = bend_after(tokens, &next);
    bend = bend ? bend : bend_before(tokens, &first);
  }
  const bool open = reader->open && reader->now.kind == CW_STAGE_PATH && i <= reader->last + SHAPE_REACH;
  if (!open) {
    cw_reader_flush(reader);
    reader->now = (CwStageReading){.kind = CW_STAGE_PATH};
    reader->first = first;
    reader->open = true;
    reader->started = false;
    reader->last_join = CW_JOIN_NONE;
  }
  reader->now.line = line;
  reader->now.bend = bend;
  reader->last = next;
  return next - i;
}

size_t cw_read_shape(CwReader *reader, size_t i)
{
  static const char *const circles[] = {"circle", "circles", "circling", "manege", "cercle", NULL};
  static const char *const halves[] = {"half", "demi", "semi", NULL};
  static const char *const curves[] = {"curve",  "curves",     "curving", "curved", "arc", "arcs",
                                       "courbe", "semicircle", "loop",    "loops",  NULL};
  static const char *const diagonals[] = {"diagonal", "diagonale", "diagonally", "diag", NULL};
  const CwTokens *tokens = reader->tokens;
  const size_t hyphen = cw_token_is(tokens, i + 1, "-");
  if (cw_token_in(tokens, i, halves) && cw_token_in(tokens, i + 1 + hyphen, circles)) {
    return is_of_limbs(tokens, i + 1 + hyphen) ? 0 : read_line(reader, i, i + 2 + hyphen, CW_LINE_CURVE);
  }
  if (cw_token_in(tokens, i, circles)) {
    return is_of_limbs(tokens, i) ? 0 : read_circle(reader, i);
  }
  if (cw_token_in(tokens, i, curves)) {
    return is_of_limbs(tokens, i) ? 0 : read_line(reader, i, i + 1, CW_LINE_CURVE);
  }
  if (cw_token_in(tokens, i, diagonals)) {
    return is_of_limbs(tokens, i) ? 0 : read_line(reader, i, i + 1, CW_LINE_DIAGONAL);
  }
  return 0;
}

/// The direction of an area, in eighths of a turn; 8 when it is none.
static unsigned direction_of(const CwPlace *place)
{
  static const unsigned direction[3][3] = {{7, 0, 1}, {6, 8, 2}, {5, 4, 3}}; // rows from DS, columns from SR
  const int row = !place->y_said || place->y == CW_MIDDLE_Y ? 1 : place->y < CW_MIDDLE_Y ? 0 : 2;
  const int column = place->x < 0 ? 0 : place->x > 0 ? 2 : 1;
  const bool wings = place->spot == CW_SPOT_WING && place->x_said; // those of a side
  return place->spot == CW_SPOT_AREA ? direction[row][column] : wings ? direction[1][column] : 8;
}

/// What is faced at token `i`. @param[out] next Token after it. @return 8 when it is nothing known.
static unsigned faced_at(const CwTokens *tokens, size_t i, size_t *next)
{
  static const char *const front[] = {"audience", "front", "public", "house", "forward", NULL};
  static const char *const behind[] = {"back", "backdrop", "backcloth", "cyc", NULL};
  CwPlace place;
  if (cw_place_read(tokens, i, &place, next)) {
    return direction_of(&place);
  }
  if (cw_token_in(tokens, i, front) || cw_token_in(tokens, i, behind)) {
    *next = i + 1;
    return cw_token_in(tokens, i, front) ? 0 : 4;
  }
  const CwBend bend = bend_at(tokens, i, next);
  const bool limb = cw_token_in(tokens, *next, cw_limb_words) || cw_token_in(tokens, *next, cw_after_no_place);
  return bend == CW_BEND_UNKNOWN || limb ? 8 : bend == CW_BEND_LEFT ? 2 : 6;
}

/// "facing", "face" as a verb, "back to": @param[out] next Token after it. @param[out] turned The back is meant.
static bool is_facing_word(const CwTokens *tokens, size_t i, size_t *next, bool *turned)
{
  static const char *const noun_before[] = {"the", "la",   "his", "her", "your",  "over", "de",
                                            "a",   "vers", "of",  "my",  "their", NULL};
  static const char *const backs[] = {"back", "backs", "dos", NULL};
  *turned = false;
  *next = i + 1;
  if (cw_token_is(tokens, i, "facing") || cw_token_is(tokens, i, "faced")) {
    return true;
  }
  if (cw_token_is(tokens, i, "face") || cw_token_is(tokens, i, "faces")) {
    return i == 0 || !cw_token_in(tokens, i - 1, noun_before);
  }
  *turned = true;
  *next = i + 2;
  return cw_token_in(tokens, i, backs) && (cw_token_is(tokens, i + 1, "to") || cw_token_is(tokens, i + 1, "au"));
}

size_t cw_read_facing(CwReader *reader, size_t i)
{
  static const char *const skipped[] = {"the", "to", "towards", "toward", "corner", "au", "a", "le", "la", NULL};
  static const char *const seeing[] = {"audience", "public", "house", NULL};
  const CwTokens *tokens = reader->tokens;
  CwStageReading facing = {.kind = CW_STAGE_FACING};
  size_t next;
  bool turned;
  if (!is_facing_word(tokens, i, &next, &turned)) {
    return 0;
  }
  size_t first = i;
  if (cw_token_is(tokens, i, "face") && i > 0 && cw_token_is(tokens, i - 1, "en")) {
    first = i - 1;
    facing.facing = 0;
  } else {
    while (next < i + 5 && cw_token_in(tokens, next, skipped)) {
      next++;
    }
    if (turned && !cw_token_in(tokens, next, seeing)) {
      return 0;
    }
    facing.facing = faced_at(tokens, next, &next);
    if (facing.facing > 7) {
      return 0;
    }
    facing.facing = turned ? 4 : facing.facing;
  }
  cw_reader_add(reader, &facing, first, next);
  return next - i;
}
