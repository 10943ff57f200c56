// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/place.h"

#include <string.h>

#include "stage/mirror_rules.h"
#include "stage/stage_lists.h"

/// A place being put together from its parts, in any order: "downstage", "left", "quarter mark".
typedef struct {
  const CwTokens *tokens;
  size_t first; ///< token that it begins with
  size_t next;
  double x, y;
  bool x_said, y_said;
  CwSpot spot;
  unsigned wing;
  bool marked;     ///< "mark" or "line" was said of a quarter
  bool plain_side; ///< x is from a bare "left" or "right"
  bool bare_depth; ///< y is from a bare "up" or "down"
  bool centre;     ///< x is from "centre", which alone is the middle of the stage
} Parts;

double cw_wing_y(unsigned wing, unsigned wings)
{
  wings = wings < 1 ? 1 : wings;
  wing = wing > wings ? wings : wing;
  return wing ? (wing - 0.5) / wings : CW_MIDDLE_Y;
}

static bool is(const Parts *parts, size_t i, const char *key)
{
  return cw_token_is(parts->tokens, i, key);
}

static bool in(const Parts *parts, size_t i, const char *const *list)
{
  return cw_token_in(parts->tokens, i, list);
}

static bool is_upper(const Parts *parts, size_t i)
{
  return i < parts->tokens->n && parts->tokens->token[i].written == CW_CASE_UPPER;
}

static bool set_x(Parts *parts, double x, size_t next)
{
  if (parts->x_said) {
    return false;
  }
  parts->x = x;
  parts->x_said = true;
  parts->next = next;
  return true;
}

static bool set_y(Parts *parts, double y, size_t next)
{
  if (parts->y_said) {
    return false;
  }
  parts->y = y;
  parts->y_said = true;
  parts->next = next;
  return true;
}

/// "DSL", "UR", "DLC": both at once.
static bool read_both(Parts *parts)
{
  static const struct {
    const char *key;
    double x, y;
    bool upper; ///< only in capitals
  } area[] = {
      {"dsl", CW_SIDE_AREA_X, CW_DOWN_Y, false},
      {"dsr", -CW_SIDE_AREA_X, CW_DOWN_Y, false},
      {"dsc", 0, CW_DOWN_Y, false},
      {"usl", CW_SIDE_AREA_X, CW_UP_Y, false},
      {"usr", -CW_SIDE_AREA_X, CW_UP_Y, false},
      {"usc", 0, CW_UP_Y, false},
      {"csl", CW_SIDE_AREA_X, CW_MIDDLE_Y, false},
      {"csr", -CW_SIDE_AREA_X, CW_MIDDLE_Y, false},
      {"msl", CW_SIDE_AREA_X, CW_MIDDLE_Y, false},
      {"msr", -CW_SIDE_AREA_X, CW_MIDDLE_Y, false},
      {"dl", CW_SIDE_AREA_X, CW_DOWN_Y, true},
      {"dr", -CW_SIDE_AREA_X, CW_DOWN_Y, true},
      {"dc", 0, CW_DOWN_Y, true},
      {"ul", CW_SIDE_AREA_X, CW_UP_Y, true},
      {"ur", -CW_SIDE_AREA_X, CW_UP_Y, true},
      {"uc", 0, CW_UP_Y, true},
      {"dlc", CW_CENTRED_AREA_X, CW_DOWN_Y, true},
      {"drc", -CW_CENTRED_AREA_X, CW_DOWN_Y, true},
      {"ulc", CW_CENTRED_AREA_X, CW_UP_Y, true},
      {"urc", -CW_CENTRED_AREA_X, CW_UP_Y, true},
      {"lc", CW_CENTRED_AREA_X, CW_MIDDLE_Y, true},
      {"rc", -CW_CENTRED_AREA_X, CW_MIDDLE_Y, true},
      {"cl", CW_CENTRED_AREA_X, CW_MIDDLE_Y, true},
      {"cr", -CW_CENTRED_AREA_X, CW_MIDDLE_Y, true},
      {"cs", 0, CW_MIDDLE_Y, true},
  };
  for (size_t k = 0; k < sizeof area / sizeof area[0] && !parts->x_said && !parts->y_said; k++) {
    if (is(parts, parts->next, area[k].key) && (!area[k].upper || is_upper(parts, parts->next))) {
      const size_t next = parts->next + 1;
      return set_x(parts, area[k].x, next) && set_y(parts, area[k].y, next);
    }
  }
  return false;
}

/// "left" or "L" as the side of something: +1, -1; 0 for neither.
static int side_word(const Parts *parts, size_t i)
{
  if (is(parts, i, "left") || (is(parts, i, "l") && is_upper(parts, i))) {
    return 1;
  }
  return is(parts, i, "right") || (is(parts, i, "r") && is_upper(parts, i)) ? -1 : 0;
}

static bool is_centre_word(const Parts *parts, size_t i)
{
  return is(parts, i, "centre") || is(parts, i, "center") || (is(parts, i, "c") && is_upper(parts, i));
}

/// French "face" is the front of the stage only after a preposition: else it is "face!".
static bool is_french_front(const Parts *parts)
{
  return is(parts, parts->next, "face") && parts->next > 0 && in(parts, parts->next - 1, cw_before_front);
}

/// "downstage", "up stage", "lointain"; "down" and "up" only before a side.
static bool read_depth(Parts *parts)
{
  const size_t i = parts->next;
  const bool down = is(parts, i, "down");
  const bool up = is(parts, i, "up");
  if ((down || up) && is(parts, i + 1, "stage")) {
    return set_y(parts, down ? CW_DOWN_Y : CW_UP_Y, i + 2);
  }
  if (down || up) {
    const bool side = side_word(parts, i + 1) != 0 || is_centre_word(parts, i + 1);
    parts->bare_depth = side && set_y(parts, down ? CW_DOWN_Y : CW_UP_Y, i + 1);
    return parts->bare_depth;
  }
  if (is(parts, i, "downstage") || is(parts, i, "ds")) {
    return set_y(parts, CW_DOWN_Y, i + 1);
  }
  if (is(parts, i, "upstage") || (is(parts, i, "us") && is_upper(parts, i))) {
    return set_y(parts, CW_UP_Y, i + 1);
  }
  if (is(parts, i, "midstage") || (is(parts, i, "mid") && is(parts, i + 1, "stage"))) {
    return set_y(parts, CW_MIDDLE_Y, is(parts, i, "mid") ? i + 2 : i + 1);
  }
  if (is(parts, i, "lointain") || (is(parts, i, "fond") && is(parts, i + 1, "de") && is(parts, i + 2, "scene"))) {
    return set_y(parts, CW_UP_Y, is(parts, i, "fond") ? i + 3 : i + 1);
  }
  if (is(parts, i, "avant") && is(parts, i + 1, "-") && is(parts, i + 2, "scene")) {
    return set_y(parts, CW_DOWN_Y, i + 3);
  }
  return is_french_front(parts) && set_y(parts, CW_DOWN_Y, i + 1);
}

/// "centre", "center stage", "C": not "your centre" nor "section C".
static bool read_centre(Parts *parts)
{
  size_t i = parts->next;
  if (is(parts, i, "centre") || is(parts, i, "center")) {
    const bool of_stage = is(parts, i + 1, "of") && (is(parts, i + 2, "stage") || is(parts, i + 3, "stage"));
    const bool owned = i > 0 && in(parts, i - 1, cw_before_no_centre);
    if (owned || (is(parts, i + 1, "of") && !of_stage) || in(parts, i + 1, cw_after_no_centre)) {
      return false;
    }
    i += of_stage ? (is(parts, i + 2, "stage") ? 3 : 4) : 1;
    i += is(parts, i, "stage") || is(parts, i, "scene") || is(parts, i, "mark");
  } else if (is(parts, i, "c") && is_upper(parts, i)) {
    const bool lettered = i > 0 && in(parts, i - 1, cw_before_letter);
    if (lettered || in(parts, i + 1, cw_after_letter)) {
      return false;
    }
    i++;
  } else {
    return false;
  }
  const bool line = is(parts, i, "line");
  if (!set_x(parts, 0, i + line)) {
    return false;
  }
  parts->centre = !line;
  parts->marked = parts->marked || line;
  return true;
}

/// "SL", "stage left", "house left", "côté cour"; "left" only beside a depth or a mark.
static bool read_side(Parts *parts)
{
  const size_t i = parts->next;
  if (is(parts, i, "sl") || is(parts, i, "sr")) {
    return set_x(parts, is(parts, i, "sl") ? CW_SIDE_AREA_X : -CW_SIDE_AREA_X, i + 1);
  }
  const size_t hyphen = is(parts, i + 1, "-") ? 1 : 0;
  const int side = side_word(parts, i + 1 + hyphen);
  if (side && (is(parts, i, "stage") || is(parts, i, "house") || is(parts, i, "audience"))) {
    const int turned = is(parts, i, "stage") ? side : -side; // the house sees it from the other side
    return set_x(parts, turned * CW_SIDE_AREA_X, i + 2 + hyphen);
  }
  const size_t garden = i + is(parts, i, "cote");
  if ((is(parts, garden, "cour") || is(parts, garden, "jardin")) &&
      (cw_judge_cour(parts->tokens, garden) == CW_MIRROR_SWAP || parts->y_said || parts->spot == CW_SPOT_WING)) {
    return set_x(parts, is(parts, garden, "cour") ? CW_SIDE_AREA_X : -CW_SIDE_AREA_X, garden + 1);
  }
  const int plain = side_word(parts, i);
  if (plain && (parts->y_said || parts->spot != CW_SPOT_AREA || in(parts, i + 1, cw_mark_words))) {
    parts->plain_side = true;
    return set_x(parts, plain * CW_SIDE_AREA_X, i + 1);
  }
  return false;
}

/// "quarter", "eighth mark", "1/4 mark".
static bool read_mark(Parts *parts)
{
  size_t i = parts->next;
  const bool fraction = is(parts, i, "1") && is(parts, i + 1, "/") && (is(parts, i + 2, "4") || is(parts, i + 2, "8"));
  const bool quarter = is(parts, i, "quarter") || is(parts, i, "quart") || (fraction && is(parts, i + 2, "4"));
  if (parts->spot != CW_SPOT_AREA || !(quarter || fraction || is(parts, i, "eighth"))) {
    return false;
  }
  i += fraction ? 3 : 1;
  if (in(parts, i, cw_after_no_mark)) {
    return false;
  }
  const bool marked = in(parts, i, cw_mark_names);
  if (fraction && !marked) {
    return false;
  }
  parts->marked = parts->marked || marked;
  parts->spot = quarter ? CW_SPOT_QUARTER : CW_SPOT_EIGHTH;
  parts->next = i + marked;
  return true;
}

/// "wing 2", "second wing", "the wings", "L2".
static bool read_wing(Parts *parts)
{
  size_t i = parts->next;
  size_t next = 0;
  if (parts->spot != CW_SPOT_AREA) {
    return false;
  }
  const int side = side_word(parts, i);
  if (side && is_upper(parts, i) && i + 1 < parts->tokens->n && parts->tokens->token[i + 1].glued &&
      parts->tokens->token[i + 1].kind == CW_TOKEN_NUMBER) {
    const unsigned number = cw_token_number(parts->tokens, i + 1, &next);
    if (number < 1 || next != i + 2 || !set_x(parts, side * CW_SIDE_AREA_X, next)) {
      return false;
    }
    parts->wing = number;
    parts->spot = CW_SPOT_WING;
    return true;
  }
  const unsigned before = cw_token_number(parts->tokens, i, &next);
  const bool ordinal = before > 0 && in(parts, next, cw_wing_words) && !is(parts, i, "one");
  i = ordinal ? next : i;
  if (!in(parts, i, cw_wing_words)) {
    return false;
  }
  parts->wing = ordinal ? before : 0;
  parts->spot = CW_SPOT_WING;
  parts->next = i + 1;
  if (!ordinal) {
    const unsigned after = cw_token_number(parts->tokens, i + 1, &next);
    parts->wing = after;
    parts->next = after ? next : i + 1;
  }
  return true;
}

static bool read_part(Parts *parts)
{
  return read_wing(parts) || read_both(parts) || read_depth(parts) || read_side(parts) || read_centre(parts) ||
         read_mark(parts);
}

/// What may stand between two parts of a place: a hyphen; a comma before the side of a mark or the wing of a side.
static bool read_more(Parts *parts)
{
  const Parts before = *parts;
  if (is(parts, parts->next, "-") && parts->tokens->token[parts->next].glued) {
    parts->next++;
  } else if (is(parts, parts->next, ",") && parts->spot != CW_SPOT_AREA && !parts->x_said) {
    parts->next++;
  } else if (is(parts, parts->next, ",") && parts->spot == CW_SPOT_AREA && parts->x_said && !parts->centre) {
    parts->next++;
    if (read_wing(parts) && parts->wing > 0) {
      return true;
    }
    *parts = before;
    return false;
  } else if (is(parts, parts->next, "on") && is(parts, parts->next + 1, "the") && parts->y_said && !parts->x_said) {
    parts->next += 2; // "upstage on the left quarter"
    parts->spot = CW_SPOT_AREA;
    const bool quarter = read_side(parts) && read_mark(parts);
    if (!quarter) {
      *parts = before;
    }
    return quarter;
  }
  if (read_part(parts)) {
    return true;
  }
  *parts = before;
  return false;
}

/// Whether the parts make a place.
static bool is_whole(const Parts *parts)
{
  const size_t i = parts->next;
  switch (parts->spot) {
  case CW_SPOT_WING:
    return parts->x_said || parts->wing > 0;
  case CW_SPOT_QUARTER:
  case CW_SPOT_EIGHTH:
    return parts->x_said || parts->marked;
  case CW_SPOT_AREA:
    break;
  }
  if (!parts->x_said && !parts->y_said) {
    return false;
  }
  if (parts->bare_depth && parts->plain_side) { // "arms up right away"
    const bool led = parts->first == 0 || in(parts, parts->first - 1, cw_before_bare) ||
                     parts->tokens->token[parts->first - 1].kind != CW_TOKEN_WORD;
    const bool ended = !cw_token_is_word(parts->tokens, i) || in(parts, i, cw_after_bare);
    if (!led || !ended) {
      return false;
    }
  }
  // "the upstage arm", "the centre couple", "upstage of Mira"
  return !in(parts, i, cw_after_no_place) && !(is(parts, i, "of") && !is(parts, i + 1, "stage"));
}

/// Where the parts are.
static CwPlace place_of(const Parts *parts)
{
  CwPlace place = {.x = parts->x,
                   .y = parts->y_said ? parts->y : CW_MIDDLE_Y,
                   .x_said = parts->x_said,
                   .y_said = parts->y_said || parts->centre,
                   .spot = parts->spot,
                   .wing = parts->wing};
  const double side = parts->x > 0 ? 1 : parts->x < 0 ? -1 : 0;
  if (parts->spot == CW_SPOT_QUARTER) {
    place.x = side * CW_QUARTER_X;
  } else if (parts->spot == CW_SPOT_EIGHTH) {
    place.x = side * CW_EIGHTH_X;
  } else if (parts->spot == CW_SPOT_WING) {
    place.x = side * CW_WING_X;
    if (parts->wing > 0) {
      place.y = cw_wing_y(parts->wing, CW_WINGS_USUAL);
      place.y_said = true;
    }
  }
  place.begin = parts->tokens->token[parts->first].begin;
  place.end = parts->tokens->token[parts->next - 1].end;
  return place;
}

bool cw_place_read(const CwTokens *tokens, size_t i, CwPlace *place, size_t *next)
{
  Parts parts = {.tokens = tokens, .first = i, .next = i};
  if (!read_part(&parts)) {
    return false;
  }
  while (read_more(&parts)) {
  }
  if (is(&parts, parts.next, "corner") && parts.spot == CW_SPOT_AREA && parts.y_said) {
    parts.next++;
  }
  if (!is_whole(&parts)) {
    return false;
  }
  *place = place_of(&parts);
  *next = parts.next;
  return true;
}
