// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/canon.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/names.h"
#include "notes/parts.h"
#include "notes/words.h"

static const char *const counts_word[] = {"counts", "count", "cts", "ct", NULL};
static const char *const later_word[] = {"later", "after", "behind", NULL};
static const char *const apart_word[] = {"apart", "after each other", "after one another", "later", NULL};
static const char *const intro_word[] = {"starts", "start",    "begins", "begin", "follows", "follow", "in canon",
                                         "canon",  "the same", "same",   "with",  "as",      NULL};

/// Groups that dance in canon, and one of them.
static const struct {
  const char *many;
  const char *one;
} voice[] = {{"lines", "line"},  {"rows", "row"},     {"groups", "group"},  {"couples", "couple"},
             {"pairs", "pair"},  {"voices", "voice"}, {"girls", "girl"},    {"boys", "boy"},
             {"women", "woman"}, {"men", "man"},      {"people", "dancer"}, {"dancers", "dancer"}};

/// Words that name one who is followed: [from, to) of the line; empty when there is none.
typedef struct {
  size_t from;
  size_t to;
} Who;

/// A line such as "[B] starts 2 counts after [A]".
typedef struct {
  Who self; ///< who it is for, when no brackets at its start say so
  Who leader;
  unsigned counts;
} Follower;

/// A number of counts at `i`. @return The first character after it; `i` when there is none.
static size_t read_number(const CwLineText *text, size_t i, size_t end, unsigned *value)
{
  const size_t after = cw_read_digits(text, i, end, value);
  return after > i && *value > 0 && *value <= CW_COUNTS_MOST ? after : i;
}

/// Skip "the" and brackets around a name that ends at `to`.
static Who trim_name(const CwLineText *text, size_t from, size_t to)
{
  from = cw_skip_blanks(text, from, to);
  (void)cw_match_words(text, from, to, "the", &from);
  from = cw_skip_blanks(text, from, to);
  to = cw_trim_blanks(text, from, to);
  while (to > from && strchr(".,", text->key[to - 1])) {
    to--;
  }
  if (from < to && text->key[from] == '[' && text->key[to - 1] == ']') {
    return (Who){from + 1, to - 1};
  }
  return (Who){from, to};
}

/// Words up to a number: who is followed, in "same as the girls, 2 counts later".
static size_t name_end(const CwLineText *text, size_t i, size_t end)
{
  if (i < end && text->key[i] == '[') {
    const char *close = memchr(text->key + i, ']', end - i);
    return close ? (size_t)(close - text->key) + 1 : end;
  }
  while (i < end && text->key[i] != ',' && !(text->key[i] == ' ' && cw_is_digit(text->key[i + 1]))) {
    i++;
  }
  return i;
}

/// "starts", "in canon", "same as": what may stand before the number. @return The first character after them.
static size_t skip_intro(const CwLineText *text, size_t i, size_t end)
{
  size_t after = i;
  while (cw_match_any(text, i, end, intro_word, &after)) {
    i = cw_skip_signs(text, after, end);
  }
  return i;
}

/// What comes after who it is for. @param named The line says whose it is.
static bool read_following(const CwLineText *text, size_t i, size_t end, bool named, Follower *follower)
{
  size_t at = skip_intro(text, i, end);
  const bool intro = at > i;
  if (intro && at < end && !cw_is_digit(text->key[at])) {
    const size_t stop = name_end(text, at, end);
    follower->leader = trim_name(text, at, stop);
    at = cw_skip_signs(text, stop, end);
  }
  const size_t number = read_number(text, at, end, &follower->counts);
  if (number == at || !(intro || named)) {
    return false;
  }
  size_t next = cw_skip_blanks(text, number, end);
  const bool counts = cw_match_any(text, next, end, counts_word, &next);
  next = cw_skip_blanks(text, next, end);
  const bool later = cw_match_any(text, next, end, later_word, &next);
  next = cw_skip_signs(text, next, end);
  if (next == end) {
    return later ? counts || intro : counts && intro;
  }
  const bool free = follower->leader.from == follower->leader.to;
  if (!later || !counts || !free) {
    return false;
  }
  follower->leader = trim_name(text, next, end);
  return true;
}

/// Where "starts 2 counts after" may begin in "the second line starts 2 counts after the first".
static size_t find_verb(const CwLineText *text, size_t i, size_t end)
{
  static const char *const verb[] = {"starts", "start", "begins", "begin", "follows", "follow", NULL};
  for (; i < end; i = cw_skip_blanks(text, cw_word_end(text, i, end), end)) {
    if (cw_match_any(text, i, end, verb, &(size_t){0})) {
      break;
    }
    if (cw_is_digit(text->key[i])) {
      return end;
    }
  }
  return i;
}

static char *copy_who(CwParser *parser, Who who)
{
  char *words = who.from < who.to ? cw_line_text_copy(&parser->text, who.from, who.to) : NULL;
  parser->full = parser->full || (who.from < who.to && !words);
  return words;
}

/// Which voice of a phrase is followed: 0 its own steps, k its part k - 1. CW_NONE when it has no such role.
static size_t find_leader(const CwNotePhrase *phrase, const char *name)
{
  if (!name) {
    return phrase->n_parts; // the last one written
  }
  if (phrase->role && cw_name_is(phrase->role, name)) {
    return 0;
  }
  for (size_t i = 0; i < phrase->n_parts; i++) {
    if (phrase->part[i].role && cw_name_is(phrase->part[i].role, name)) {
      return i + 1;
    }
  }
  return phrase->role ? CW_NONE : 0; // everybody, of whom some have a name only here
}

/// Add a voice that does the same `counts` later than voice `leader`.
static void add_voice(CwParser *parser, CwNotePhrase *phrase, size_t leader, unsigned counts, const char *role)
{
  CwNotePart *part = phrase->n_parts < CW_PARTS_MOST ? cw_part_add(parser, phrase) : NULL;
  if (!part) {
    return;
  }
  const CwNotePart *led = leader > 0 ? &phrase->part[leader - 1] : NULL;
  part->after = counts;
  part->delay = counts + (led ? led->delay : 0);
  part->n_steps = cw_copy_steps(parser, led ? led->step : phrase->step, led ? led->n_steps : phrase->n_steps, counts, 0,
                                &part->step);
  const char *name = led ? led->role : phrase->role;
  (void)(cw_copy_to(parser, role, &part->role) && cw_copy_to(parser, name, &part->leader));
}

bool cw_read_follower(CwParser *parser, size_t i, const CwLineStart *start)
{
  const CwLineText *text = &parser->text;
  const CwGroup *group = &parser->group;
  const size_t end = parser->end;
  const bool named = start->role < start->role_end;
  Follower follower = {.self = {start->role, start->role_end}};
  if (group->end == group->first || group->end != parser->notebook->n_phrases || start->n_pins > 0) {
    return false;
  }
  if (!named) {
    const size_t verb = find_verb(text, i, end);
    follower.self = trim_name(text, i, verb < end ? verb : i);
    i = verb;
  }
  if (follower.self.from >= follower.self.to || !read_following(text, i, end, named, &follower)) {
    return false;
  }
  char *role = copy_who(parser, follower.self);
  char *name = copy_who(parser, follower.leader);
  for (size_t k = group->first; k < group->end && !parser->full; k++) {
    CwNotePhrase *phrase = &parser->notebook->phrase[k];
    const size_t leader = find_leader(phrase, name);
    if (leader == CW_NONE && k == group->first) {
      cw_diagnose_found(parser, follower.leader.from, follower.leader.to, "a role of the phrase above");
    }
    add_voice(parser, phrase, leader == CW_NONE ? 0 : leader, follower.counts, role);
  }
  free(role);
  free(name);
  parser->group.line = parser->line;
  return true;
}

/// "by 3 lines" or "3 lines". @return The first character after it; `i` when it is none.
static size_t read_voices(const CwLineText *text, size_t i, size_t end, CwCanon *canon)
{
  size_t at = i;
  unsigned voices = 0;
  const bool by = cw_match_words(text, i, end, "by", &at);
  at = cw_skip_blanks(text, at, end);
  const size_t number = read_number(text, at, end, &voices);
  if (number == at) {
    return i;
  }
  size_t next = cw_skip_blanks(text, number, end);
  for (size_t k = 0; k < sizeof voice / sizeof voice[0]; k++) {
    if (cw_match_words(text, next, end, voice[k].many, &next)) {
      *canon = (CwCanon){canon->apart, voices, voice[k].one};
      return next;
    }
  }
  if (by) {
    *canon = (CwCanon){canon->apart, voices, "voice"};
    return number;
  }
  return i;
}

/// "2 counts apart", "every 2 counts", "2 apart", or "2" at the end.
static size_t read_apart(const CwLineText *text, size_t i, size_t end, CwCanon *canon)
{
  size_t at = i;
  unsigned counts = 0;
  (void)cw_match_words(text, i, end, "every", &at);
  at = cw_skip_blanks(text, at, end);
  const size_t number = read_number(text, at, end, &counts);
  if (number == at) {
    return i;
  }
  size_t next = cw_skip_blanks(text, number, end);
  const bool unit = cw_match_any(text, next, end, counts_word, &next);
  const size_t after = cw_skip_blanks(text, next, end);
  const bool apart = cw_match_any(text, after, end, apart_word, &next);
  if (!unit && !apart && cw_skip_signs(text, number, end) < end) {
    return i;
  }
  canon->apart = counts;
  return next;
}

/// The last "canon" of [i, end); `end` when there is none.
static size_t last_canon(const CwLineText *text, size_t i, size_t end)
{
  for (size_t at = end; at > i; at--) {
    const size_t k = at - 1;
    if (text->key[k] == 'c' && (k == i || !cw_is_word_character(text->key[k - 1])) &&
        cw_match_words(text, k, end, "canon", &(size_t){0})) {
      return k;
    }
  }
  return end;
}

size_t cw_take_canon(CwParser *parser, size_t i, size_t end, CwCanon *canon)
{
  const CwLineText *text = &parser->text;
  *canon = (CwCanon){0};
  const size_t word = last_canon(text, i, end);
  if (word == end) {
    return end;
  }
  size_t at = cw_skip_signs(text, word + strlen("canon"), end);
  if (at == end) {
    cw_diagnose_found(parser, word, end, "how many counts apart, such as 'in canon, 2 counts apart'");
    return end;
  }
  for (size_t before = end + 1; at < end && at != before;) {
    before = at;
    at = cw_skip_signs(text, read_voices(text, at, end, canon), end);
    at = canon->apart ? at : cw_skip_signs(text, read_apart(text, at, end, canon), end);
  }
  if (at < end || canon->apart == 0) { // other words: they are hers
    *canon = (CwCanon){0};
    return end;
  }
  size_t stop = cw_trim_blanks(text, i, word);
  if (stop >= i + 2 && memcmp(text->key + stop - 2, "in", 2) == 0 && (stop == i + 2 || text->key[stop - 3] == ' ')) {
    stop = cw_trim_blanks(text, i, stop - 2);
  }
  return stop;
}

/// The roles of brackets such as "[first row, second row]": the first is the phrase's own.
static void add_roles(CwParser *parser, const char *roles, unsigned apart, CwNotePhrase *phrase)
{
  const char *at = roles;
  const char *name = NULL;
  size_t length = cw_name_next(&at, &name);
  char *first = cw_copy_text(name, length);
  free(phrase->role);
  phrase->role = first;
  parser->full = parser->full || !first;
  while (!parser->full && (length = cw_name_next(&at, &name)) > 0) {
    char *role = cw_copy_text(name, length);
    parser->full = parser->full || !role;
    add_voice(parser, phrase, phrase->n_parts, apart, role);
    free(role);
  }
}

static size_t number_of_names(const char *roles)
{
  size_t n = 0;
  for (const char *name = NULL; roles && cw_name_next(&roles, &name) > 0;) {
    n++;
  }
  return n;
}

void cw_canon_last(CwParser *parser, const CwCanon *canon, const CwLineStart *start, size_t first)
{
  char *roles = copy_who(parser, (Who){start->role, start->role_end});
  const bool several = number_of_names(roles) > 1;
  for (size_t k = first; canon->apart > 0 && k < parser->notebook->n_phrases && !parser->full; k++) {
    CwNotePhrase *phrase = &parser->notebook->phrase[k];
    phrase->canon_apart = canon->apart;
    if (several) {
      add_roles(parser, roles, canon->apart, phrase);
      continue;
    }
    for (unsigned v = 2; v <= canon->voices && !parser->full; v++) {
      char role[32];
      snprintf(role, sizeof role, "%s %u", canon->word, v);
      add_voice(parser, phrase, v - 2, canon->apart, role);
    }
  }
  free(roles);
}
