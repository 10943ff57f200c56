// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/people.h"

#include <string.h>
#include <strings.h>

#include "stage/mirror_lists.h"
#include "stage/place.h"
#include "stage/stage_lists.h"

/// A name that the caller gave, whole words of it.
static bool read_known(const CwTokens *tokens, size_t i, const char *const *names, size_t *next)
{
  for (; names && *names; names++) {
    const size_t length = strlen(*names);
    const size_t end = tokens->token[i].begin + length;
    for (size_t k = i; length > 0 && k < tokens->n && tokens->token[k].end <= end; k++) {
      if (tokens->token[k].end == end && strncasecmp(tokens->text + tokens->token[i].begin, *names, length) == 0) {
        *next = k + 1;
        return true;
      }
    }
  }
  return false;
}

/// A word with a capital letter that is no other word of ours.
static bool is_name(const CwTokens *tokens, size_t i)
{
  static const char *const *const other[] = {cw_no_names,    cw_step_words, cw_stage_words,   cw_move_words,
                                             cw_gaze_words,  cw_from_words, cw_to_words,      cw_enter_words,
                                             cw_exit_words,  cw_side_preps, cw_french_before, cw_cour_before,
                                             cw_right_where, cw_right_now,  cw_how_far,       cw_owners};
  CwPlace place;
  size_t next;
  if (!cw_token_is_word(tokens, i) || tokens->token[i].written != CW_CASE_TITLE || cw_token_is(tokens, i + 1, "'") ||
      tokens->token[i].end - tokens->token[i].begin < 2) {
    return false;
  }
  for (size_t k = 0; k < sizeof other / sizeof other[0]; k++) {
    if (cw_token_in(tokens, i, other[k])) {
      return false;
    }
  }
  return !cw_token_is(tokens, i, "left") && !cw_token_is(tokens, i, "right") &&
         !cw_place_read(tokens, i, &place, &next);
}

/// One name or word for dancers.
static bool read_one(const CwTokens *tokens, size_t i, const char *const *names, size_t *next)
{
  if (!cw_token_is_word(tokens, i)) {
    return false;
  }
  if (read_known(tokens, i, names, next)) {
    return true;
  }
  size_t numbered = i;
  if (cw_token_number(tokens, i, &numbered) > 0 &&
      cw_token_in(tokens, numbered, cw_person_words)) { // "second ferryman"
    *next = numbered + 1;
    return true;
  }
  if (cw_token_in(tokens, i, cw_person_words)) {
    *next = i + 1;
    return true;
  }
  *next = i;
  while (is_name(tokens, *next) || (*next > i && cw_token_in(tokens, *next, cw_person_words))) {
    ++*next;
  }
  return *next > i;
}

bool cw_person_read(const CwTokens *tokens, size_t i, const char *const *names, size_t *next)
{
  if (!read_one(tokens, i, names, next)) {
    return false;
  }
  size_t more;
  while ((cw_token_is(tokens, *next, "and") || cw_token_is(tokens, *next, "et") || cw_token_is(tokens, *next, "&")) &&
         read_one(tokens, *next + 1, names, &more)) {
    *next = more;
  }
  return true;
}
