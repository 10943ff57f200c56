// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "stage/place.h"
#include "stage/reader.h"
#include "stage/stage_lists.h"

/// Tokens that may stand between "from DSL" and "to C".
enum { PATH_REACH = 9 };

/// A place with what joins it.
typedef struct {
  CwPlace place;
  CwJoin join;
  size_t first; ///< token of the join, or of the place
  size_t begin; ///< token of the place
  size_t next;
  bool implied; ///< only a verb says "to"
  bool soft;    ///< French "à", which is "to" after "from" and "at" elsewhere
} Joined;

static CwJoin join_of(const CwTokens *tokens, size_t i)
{
  static const struct {
    CwJoin join;
    const char *const *words;
  } list[] = {{CW_JOIN_FROM, cw_from_words},
              {CW_JOIN_TO, cw_to_words},
              {CW_JOIN_THROUGH, cw_through_words},
              {CW_JOIN_AT, cw_at_words},
              {CW_JOIN_THEN, cw_then_words}};
  if (cw_token_is(tokens, i, ">")) {
    return CW_JOIN_ARROW;
  }
  if (cw_token_is(tokens, i, "-")) {
    return CW_JOIN_ARROW;
  }
  for (size_t k = 0; k < sizeof list / sizeof list[0]; k++) {
    if (cw_token_in(tokens, i, list[k].words)) {
      return list[k].join;
    }
  }
  return CW_JOIN_NONE;
}

/// What joins the place at token `i` to what stands before it, over articles.
static void find_join(const CwTokens *tokens, Joined *joined)
{
  joined->first = joined->begin;
  for (size_t k = joined->begin; k > 0 && joined->begin - k < 3;) {
    k--;
    joined->join = join_of(tokens, k);
    if (joined->join != CW_JOIN_NONE) {
      joined->first = k;
      joined->soft = cw_token_is(tokens, k, "a") || cw_token_is(tokens, k, "au");
      const bool through = joined->join == CW_JOIN_TO && k > 0 && cw_token_in(tokens, k - 1, cw_through_words);
      joined->first -= through; // "through to C"
      return;
    }
    if (!cw_token_in(tokens, k, cw_filler) && !cw_token_is(tokens, k, "'")) {
      return;
    }
  }
}

/// A word before a place, over adverbs: "run straight off". @return Its token, or SIZE_MAX.
static size_t verb_before(const CwTokens *tokens, size_t i)
{
  for (size_t k = i; k > 0 && i - k < 4;) {
    k--;
    if (!cw_token_is_word(tokens, k)) {
      return (size_t)-1;
    }
    if (cw_token_in(tokens, k, cw_small_words)) {
      continue;
    }
    if (!cw_token_in(tokens, k, cw_move_adverbs) || cw_token_is(tokens, k, "back") || cw_token_is(tokens, k, "away")) {
      return k;
    }
  }
  return (size_t)-1;
}

static bool is_gaze(const CwTokens *tokens, size_t first)
{
  const size_t verb = verb_before(tokens, first);
  return verb != (size_t)-1 && cw_token_in(tokens, verb, cw_gaze_words);
}

/// A place with no join, or "at": where someone goes when a verb says so.
static CwJoin join_by_verb(const CwReader *reader, const Joined *joined)
{
  const size_t verb = verb_before(reader->tokens, joined->first);
  const bool named = reader->person && verb != (size_t)-1 && verb < reader->person_next && verb >= reader->person_first;
  const bool after_name = reader->person && joined->first == reader->person_next;
  if ((after_name && reader->entering) || (!named && cw_token_in(reader->tokens, verb, cw_enter_words))) {
    return CW_JOIN_FROM;
  }
  if (joined->join == CW_JOIN_AT) {
    return CW_JOIN_AT;
  }
  if ((after_name && reader->exiting) || cw_token_in(reader->tokens, verb, cw_exit_words) ||
      cw_token_in(reader->tokens, verb, cw_move_words)) {
    return CW_JOIN_TO;
  }
  return joined->join;
}

/// Put a place into the open reading, before its last `back` places.
static void put_place(CwReader *reader, const Joined *joined, size_t back)
{
  CwStageReading *now = &reader->now;
  if (!cw_grow(&now->place, &reader->place_capacity, now->n_places, sizeof *now->place)) {
    reader->full = true;
    return;
  }
  memmove(now->place + now->n_places - back + 1, now->place + now->n_places - back, back * sizeof *now->place);
  now->place[now->n_places - back] = joined->place;
  now->n_places++;
  reader->last = joined->next;
}

/// Whether the open reading goes on with this place; then put it there.
static bool go_on(CwReader *reader, const Joined *joined)
{
  CwStageReading *now = &reader->now;
  if (!reader->open) {
    return false;
  }
  const bool touching = joined->first == reader->last;
  const bool near = joined->first <= reader->last + PATH_REACH;
  const bool empty = now->n_places == 0;
  if (joined->soft && !(now->kind == CW_STAGE_PATH && reader->started)) {
    return false;
  }
  const bool path = now->kind == CW_STAGE_PATH;
  if (empty && near) { // "on the diagonal from ..."
    reader->started = joined->join != CW_JOIN_TO && joined->join != CW_JOIN_THROUGH;
    now->open_start = !reader->started;
    put_place(reader, joined, 0);
  } else if (joined->join == CW_JOIN_FROM && path && !reader->started && now->n_places == 1 && near) {
    reader->started = true; // "to C from USR"
    now->open_start = false;
    put_place(reader, joined, 1);
    reader->started = true;
  } else if (joined->join == CW_JOIN_THROUGH && path && reader->last_join == CW_JOIN_TO && touching) {
    put_place(reader, joined, 1); // "to C via SL"
    return true;
  } else if ((joined->join == CW_JOIN_ARROW && touching) ||
             ((joined->join == CW_JOIN_TO || joined->join == CW_JOIN_THROUGH) &&
              (touching || (path && reader->started && near))) ||
             (joined->join == CW_JOIN_THEN && path && touching)) {
    if (!path) { // a place turns out to be where a path begins
      now->kind = CW_STAGE_PATH;
      reader->started = true;
    }
    if (joined->join == CW_JOIN_ARROW && reader->implied && now->n_places == 1) { // "run DSL > C"
      reader->started = true;
      now->open_start = false;
    }
    put_place(reader, joined, 0);
  } else {
    return false;
  }
  reader->last_join = joined->join;
  return true;
}

static void begin(CwReader *reader, const Joined *joined)
{
  cw_reader_flush(reader);
  reader->now = (CwStageReading){.kind = CW_STAGE_PATH};
  reader->first = joined->first;
  reader->open = true;
  reader->started = joined->join == CW_JOIN_FROM;
  reader->last_join = joined->join;
  reader->implied = joined->implied;
  reader->now.open_start = !reader->started;
  if (joined->join == CW_JOIN_NONE || joined->join == CW_JOIN_AT || joined->join == CW_JOIN_THEN) {
    reader->now.kind = CW_STAGE_AT;
    reader->now.open_start = false;
  }
  put_place(reader, joined, 0);
}

size_t cw_read_place(CwReader *reader, size_t i)
{
  Joined joined = {.begin = i};
  if (!cw_place_read(reader->tokens, i, &joined.place, &joined.next)) {
    return 0;
  }
  find_join(reader->tokens, &joined);
  if (is_gaze(reader->tokens, joined.first)) {
    cw_reader_flush(reader);
    return joined.next - i;
  }
  if (joined.join == CW_JOIN_NONE || joined.join == CW_JOIN_AT) {
    joined.join = join_by_verb(reader, &joined);
    joined.implied = joined.join == CW_JOIN_TO;
  }
  if (joined.soft) { // "descendre à la face"
    const Joined bare = {.place = joined.place, .first = joined.first, .begin = joined.begin, .next = joined.next};
    joined.implied = join_by_verb(reader, &bare) == CW_JOIN_TO;
  }
  if (!go_on(reader, &joined)) {
    joined.join = joined.soft && !joined.implied ? CW_JOIN_AT : joined.join;
    begin(reader, &joined);
  }
  return joined.next - i;
}
