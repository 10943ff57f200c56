// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/mirror_rules.h"

#include <string.h>

#include "stage/mirror_lists.h"

/// Tokens to each side that are looked at; in a line without end the rest would take for ever.
enum { FARTHEST = 60 };

/// No word there: the part of the sentence ends.
static const size_t edge = (size_t)-1;

/// A word and its neighbours.
typedef struct {
  const CwTokens *tokens;
  size_t i;
  size_t before;  ///< the word before in the same part of the sentence, or `edge`
  size_t before2; ///< the one before that
  size_t after;
  size_t after2;
  bool right; ///< the word is "right", not "left"
} Around;

/// A hyphen within "right-left".
static bool is_hyphen(const CwTokens *tokens, size_t i)
{
  return cw_token_is(tokens, i, "-") && tokens->token[i].glued && i + 1 < tokens->n && tokens->token[i + 1].glued;
}

static size_t word_before(const CwTokens *tokens, size_t i)
{
  if (i == edge || i == 0) {
    return edge;
  }
  const size_t at = i >= 2 && is_hyphen(tokens, i - 1) ? i - 2 : i - 1;
  return cw_token_is_word(tokens, at) ? at : edge;
}

static size_t word_after(const CwTokens *tokens, size_t i)
{
  if (i == edge) {
    return edge;
  }
  const size_t at = is_hyphen(tokens, i + 1) ? i + 2 : i + 1;
  return cw_token_is_word(tokens, at) ? at : edge;
}

static Around around(const CwTokens *tokens, size_t i)
{
  Around a = {.tokens = tokens, .i = i, .right = strncmp(tokens->token[i].key, "r", 1) == 0};
  a.before = word_before(tokens, i);
  a.before2 = word_before(tokens, a.before);
  a.after = word_after(tokens, i);
  a.after2 = word_after(tokens, a.after);
  return a;
}

static bool in(const Around *a, size_t i, const char *const *list)
{
  return i != edge && cw_token_in(a->tokens, i, list);
}

/// Whether a word is a step or a move, also as "turned" or "ending".
static bool is_step(const Around *a, size_t i)
{
  static const char *const ending[] = {"ing", "ed", NULL};
  if (i == edge || in(a, i, cw_step_words)) {
    return i != edge;
  }
  const char *key = a->tokens->token[i].key;
  for (size_t k = 0; ending[k]; k++) {
    const size_t length = strlen(key);
    const size_t end = strlen(ending[k]);
    if (length <= end + 1 || strcmp(key + length - end, ending[k]) != 0) {
      continue;
    }
    for (const char *const *word = cw_step_words; *word; word++) {
      const size_t stem = strlen(*word);
      const bool cut = stem > 1 && (*word)[stem - 1] == 'e' && length - end == stem - 1; // "circl-ed"
      if (strncmp(key, *word, cut ? stem - 1 : stem) == 0 && (cut || length - end == stem)) {
        return true;
      }
    }
  }
  return false;
}

static bool is(const Around *a, size_t i, const char *key)
{
  return i != edge && cw_token_is(a->tokens, i, key);
}

static bool is_side(const Around *a, size_t i)
{
  static const char *const sides[] = {"left", "right", "l", "r", "lefts", "rights", NULL};
  return in(a, i, sides);
}

/// Nothing that belongs to the word comes after it.
static bool ends(const Around *a)
{
  return a->after == edge || in(a, a->after, cw_join_words);
}

/// A number comes right after `i`.
static bool number_after(const CwTokens *tokens, size_t i)
{
  return i != edge && i + 1 < tokens->n && tokens->token[i + 1].kind == CW_TOKEN_NUMBER;
}

/// The sign right after token `i`.
static char sign_after(const CwTokens *tokens, size_t i)
{
  return i + 1 < tokens->n && tokens->token[i + 1].kind == CW_TOKEN_SIGN ? tokens->token[i + 1].key[0] : '\0';
}

/// The other side stands in the same text, as the same kind of word alone or after dancers: "boys left, girls right".
static bool has_other_side(const Around *a)
{
  const size_t first = a->i > FARTHEST ? a->i - FARTHEST : 0;
  for (size_t i = first; i < a->tokens->n && i < a->i + FARTHEST; i++) {
    if (!cw_token_is(a->tokens, i, a->right ? "left" : "right")) {
      continue;
    }
    const Around other = {.tokens = a->tokens, .i = i, .after = word_after(a->tokens, i)};
    const size_t before = word_before(a->tokens, i);
    if (ends(&other) && (before == edge || in(a, before, cw_groups))) {
      return true;
    }
  }
  return false;
}

/// "wing 2 left"
static bool follows_wing(const Around *a)
{
  static const char *const numbered[] = {"wing", "wings", "quarter", "line", "row", "column", "bar", NULL};
  return a->i >= 2 && a->tokens->token[a->i - 1].kind == CW_TOKEN_NUMBER && cw_token_in(a->tokens, a->i - 2, numbered);
}

/// What stands before says that a side follows: "turn", "to the", "stage".
static bool is_led(const Around *a)
{
  static const char *const one[] = {"a", "another", NULL};
  if (a->before == edge) {
    return follows_wing(a);
  }
  if (in(a, a->before, one) && ends(a)) {
    return true;
  }
  return is_step(a, a->before) || in(a, a->before, cw_stage_words) || in(a, a->before, cw_side_preps) ||
         is_side(a, a->before) || (in(a, a->before, cw_owners) && ends(a)) || (in(a, a->before, cw_how_far) && ends(a));
}

/// "right" before "after", "on", "to the" ...: at this place, or a side?
static CwVerdict judge_right_where(const Around *a)
{
  const bool step = is_step(a, a->before);
  if (follows_wing(a) || is_side(a, a->after2) || (is(a, a->after, "back") && in(a, a->after2, cw_sided_things))) {
    return CW_MIRROR_SWAP; // "right to left", "right over left", "right then left"
  }
  if (is(a, a->after, "on")) {
    if (number_after(a->tokens, a->after)) {
      static const char *const arrive[] = {"go",   "back",   "jump", "close",  "tap",    "stamp", "end",
                                           "ends", "ending", "land", "landed", "finish", NULL};
      return step && !in(a, a->before, arrive) ? CW_MIRROR_SWAP : CW_MIRROR_KEEP;
    }
    return in(a, a->after2, cw_on_what) ? CW_MIRROR_KEEP : CW_MIRROR_DOUBT;
  }
  if (in(a, a->before, cw_side_preps) || in(a, a->before, cw_owners) || in(a, a->before, cw_stage_words) ||
      is_side(a, a->before)) {
    return CW_MIRROR_SWAP; // "from right to", "stage right after"
  }
  static const char *const limbs[] = {"arms", "arm", "legs", "hands", "eyes", "head", "feet", NULL};
  if (step && !in(a, a->before, limbs)) {
    return is(a, a->after, "to") || is(a, a->after, "then") ? CW_MIRROR_SWAP : CW_MIRROR_DOUBT;
  }
  return is(a, a->after, "then") && a->before != edge ? CW_MIRROR_DOUBT : CW_MIRROR_KEEP;
}

/// "get the rhythm right"
static bool is_made_right(const Around *a)
{
  for (size_t i = a->before; i != edge && i + FARTHEST > a->i; i = word_before(a->tokens, i)) {
    if (in(a, i, cw_make_right)) {
      return !in(a, a->before, cw_step_words) && !in(a, a->before, cw_side_preps) && !in(a, a->before, cw_owners);
    }
  }
  return false;
}

/// Whether "right" is no side. @param[out] verdict What it is, when this tells.
static bool tell_right(const Around *a, CwVerdict *verdict)
{
  *verdict = CW_MIRROR_KEEP;
  if (in(a, a->after, cw_right_now) || in(a, a->after, cw_right_things) ||
      (is(a, a->after, "side") && is(a, a->after2, "up"))) {
    return true;
  }
  if (is(a, a->after, "of")) {
    *verdict = CW_MIRROR_SWAP;
    return true;
  }
  if (in(a, a->after, cw_right_where)) {
    *verdict = judge_right_where(a);
    return true;
  }
  if (in(a, a->before, cw_is_right) && !in(a, a->after, cw_sided_things)) {
    return true;
  }
  if (is(a, a->after, "but") || is(a, a->after, "enough") || is(a, a->before, "nothing")) {
    return true;
  }
  if (a->after == edge && (sign_after(a->tokens, a->i) == '?' || sign_after(a->tokens, a->i) == '!') &&
      (a->before == edge || !is_led(a))) {
    return true;
  }
  return ends(a) && is_made_right(a);
}

/// The same for "left".
static bool tell_left(const Around *a, CwVerdict *verdict)
{
  *verdict = CW_MIRROR_KEEP;
  static const char *const what[] = {"what", "nothing", "much", "all", "any", "anything", "s", NULL};
  if (is(a, a->after, "of")) {
    *verdict = in(a, a->before, what) || in(a, a->before2, what) ? CW_MIRROR_KEEP : CW_MIRROR_SWAP;
    return true;
  }
  if ((is(a, a->after, "over") || is(a, a->after, "to")) && is_side(a, a->after2)) {
    *verdict = CW_MIRROR_SWAP;
    return true;
  }
  if (in(a, a->after, cw_left_after) || (is(a, a->after, "to") && is(a, a->after2, "do"))) {
    return !(in(a, a->before, cw_side_preps) || in(a, a->before, cw_stage_words));
  }
  if (in(a, a->before, cw_left_by) && !in(a, a->after, cw_sided_things)) {
    return true;
  }
  return in(a, a->after, cw_left_what) && !is_led(a);
}

/// Whether a word that is a part of the sentence by itself, or follows dancers, is a side.
static bool is_side_alone(const Around *a)
{
  static const char *const how[] = {"high", "low", "first", "forward", "back", "up", "down", "straight", NULL};
  if (a->before != edge && in(a, a->before, cw_join_words)) {
    return true; // "and right"
  }
  const bool counted = a->before == edge && a->i > 0 && a->tokens->token[a->i - 1].kind == CW_TOKEN_NUMBER;
  const bool last = a->before == edge && a->i > 0 && a->after == edge; // "tendu, right"
  return counted || last || in(a, a->after, how) || has_other_side(a);
}

CwVerdict cw_judge_side(const CwTokens *tokens, size_t i)
{
  const Around a = around(tokens, i);
  CwVerdict told;
  if (a.after != edge && tokens->token[i].written == CW_CASE_TITLE && tokens->token[a.after].written == CW_CASE_TITLE &&
      !in(&a, a.after, cw_sided_things)) {
    return CW_MIRROR_DOUBT; // a name
  }
  if (a.right ? tell_right(&a, &told) : tell_left(&a, &told)) {
    return told;
  }
  if (in(&a, a.after, cw_sided_things) || is_led(&a) || is_side(&a, a.after)) {
    return CW_MIRROR_SWAP;
  }
  if (in(&a, a.after, cw_step_words) && (a.before == edge || in(&a, a.before, cw_owners))) {
    return CW_MIRROR_SWAP; // "right tendu"
  }
  const bool joins = in(&a, a.before, cw_join_words) && is_side(&a, a.before2);
  const bool joined = in(&a, a.after, cw_join_words) && is_side(&a, a.after2);
  if (joins || joined) {
    return CW_MIRROR_SWAP; // "left and right"
  }
  if (ends(&a) && (a.before == edge || in(&a, a.before, cw_groups) || in(&a, a.before, cw_join_words))) {
    return is_side_alone(&a) ? CW_MIRROR_SWAP : CW_MIRROR_DOUBT;
  }
  if (!a.right && in(&a, a.before, cw_owners)) {
    return CW_MIRROR_SWAP; // "the left ..." of anything is a side
  }
  return CW_MIRROR_DOUBT;
}

/// The letter of "l'autre", "R&B", "L shape", "R. Marsh".
static CwVerdict judge_no_letter(const Around *a)
{
  static const char *const shapes[] = {"shape", "shaped", "shapes", "major", "minor", NULL};
  const CwTokens *t = a->tokens;
  const size_t i = a->i;
  const char next = i + 1 < t->n && t->token[i + 1].glued ? t->token[i + 1].key[0] : '\0';
  if (next == '\'' || (i > 0 && t->token[i].glued && cw_token_is(t, i - 1, "'")) || in(a, a->after, shapes)) {
    return CW_MIRROR_KEEP;
  }
  if (next == '&' && cw_token_is_word(t, i + 2) && t->token[i + 2].glued && !is_side(a, i + 2)) {
    return CW_MIRROR_KEEP;
  }
  const bool name_after = next == '.' && cw_token_is_word(t, i + 2) && t->token[i + 2].written == CW_CASE_TITLE;
  const bool named = a->before == edge || t->token[a->before].written == CW_CASE_TITLE;
  return name_after && named ? CW_MIRROR_DOUBT : CW_MIRROR_SWAP;
}

CwVerdict cw_judge_letter(const CwTokens *tokens, size_t i)
{
  const Around a = around(tokens, i);
  const CwVerdict verdict = judge_no_letter(&a);
  if (verdict != CW_MIRROR_SWAP || tokens->token[i].written == CW_CASE_UPPER) {
    return verdict;
  }
  const char next = sign_after(tokens, i);
  const bool slash = next == '/' && is_side(&a, i + 2);
  const bool slashed = i >= 2 && cw_token_is(tokens, i - 1, "/") && is_side(&a, i - 2);
  return slash || slashed || is_led(&a) || in(&a, a.after, cw_sided_things) || is_side(&a, a.after) ||
                 (in(&a, a.before, cw_owners) && a.after == edge)
             ? CW_MIRROR_SWAP
             : CW_MIRROR_DOUBT;
}

bool cw_is_masculine(const CwTokens *tokens, size_t i)
{
  const size_t before = word_before(tokens, i);
  return before != edge && cw_token_in(tokens, before, cw_masculine);
}

CwVerdict cw_judge_french(const CwTokens *tokens, size_t i)
{
  const Around a = around(tokens, i);
  const bool masculine = cw_is_masculine(tokens, i);
  if (tokens->token[i].key[0] == 'd') {
    const char *key = tokens->token[i].key;
    const bool said_so = key[5] != 'e'; // "droit", "droits"
    if (in(&a, a.before, cw_straight)) {
      return CW_MIRROR_KEEP;
    }
    if (said_so != masculine) { // turned there and back it would be written another way
      return CW_MIRROR_DOUBT;
    }
  }
  return masculine || a.before == edge || in(&a, a.before, cw_french_before) ? CW_MIRROR_SWAP : CW_MIRROR_DOUBT;
}

CwVerdict cw_judge_cour(const CwTokens *tokens, size_t i)
{
  const Around a = around(tokens, i);
  if (in(&a, a.before, cw_cour_before)) {
    return CW_MIRROR_SWAP;
  }
  if (in(&a, a.before, cw_articles) || is(&a, a.after, "du") || is(&a, a.after, "des")) {
    return CW_MIRROR_KEEP;
  }
  return a.before == edge && a.after == edge ? CW_MIRROR_SWAP : CW_MIRROR_DOUBT;
}
