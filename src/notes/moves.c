// SPDX-License-Identifier: GPL-3.0-or-later
// Who comes on and goes off: read from the words of steps and remarks, as repeats dance them again.
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "notes/names.h"
#include "notes/parser.h"

/// Words that a role's name may have, where an entrance names it.
enum { MOST_NAME_WORDS = 4 };

/// The words of one entrance or exit.
static const struct {
  const char *word;
  bool on;
  bool french;   ///< a word of its own in other languages
  bool anywhere; ///< in scripts without blanks
} turn[] = {
    {"enter", true, false, false},
    {"enters", true, false, false},
    {"re-enter", true, false, false},
    {"re-enters", true, false, false},
    {"exit", false, false, false},
    {"exits", false, false, false},
    {"exeunt", false, false, false},
    {"entre", true, true, false},
    {"entrent", true, true, false},
    {"entr\xC3\xA9"
     "e",
     true, true, false},
    {"entrer", true, true, false},
    {"sort", false, true, false},
    {"sortent", false, true, false},
    {"sortie", false, true, false},
    {"sortir", false, true, false},
    {"\xE7\x99\xBB\xE5\xA0\xB4", true, false, true},  // to come on stage
    {"\xE9\x80\x80\xE5\xA0\xB4", false, false, true}, // to leave it
};

/// What is being looked through.
typedef struct {
  CwParser *parser;
  CwNames cast; ///< all roles that have a name
  bool french;
  size_t phrase;
  size_t line;
  const char *last; ///< brackets looked at last
  const char *role; ///< whose words these are; NULL: everybody's
} Search;

static bool is_letter(char c)
{
  return isalnum((unsigned char)c) || (unsigned char)c >= 0x80 || c == '\'';
}

static size_t word_length(const char *c)
{
  size_t n = 0;
  while (is_letter(c[n]) || (c[n] == '-' && n > 0 && is_letter(c[n + 1]))) {
    n++;
  }
  return n;
}

static const char *skip_blanks(const char *c)
{
  while (*c == ' ') {
    c++;
  }
  return c;
}

static const char *skip_the(const char *c)
{
  c = skip_blanks(c);
  return strncasecmp(c, "the ", 4) == 0 ? skip_blanks(c + 4) : c;
}

/// The longest role that begins at `c`. @return Its length; 0 when none does.
static size_t match_role(const Search *search, const char *c)
{
  size_t best = 0;
  size_t end = 0;
  for (size_t words = 0; words < MOST_NAME_WORDS && search->cast.n > 0; words++) {
    const size_t length = word_length(c + end);
    if (length == 0) {
      break;
    }
    end += length;
    best = cw_names_find(&search->cast, c, end) != CW_NO_NAME ? end : best;
    if (c[end] != ' ') {
      break;
    }
    end++;
  }
  return best;
}

/// A name that stands in no brackets: words with a capital that are no place. @return Its length; 0 when there is none.
static size_t guess_role(const char *c)
{
  static const char *const place[] = {
      "Left",      "Right",    "Stage", "Up",   "Down",  "Centre", "Center", "Upstage", "From", "With",    "Downstage",
      "Everybody", "Everyone", "All",   "Wing", "Wings", "In",     "On",     "At",      "The",  "Quarter", "Both"};
  size_t end = 0;
  const char *word = c;
  for (size_t words = 0; words < MOST_NAME_WORDS; words++, word = c + end + 1) {
    const size_t length = word_length(word);
    bool name = length > 1 && isupper((unsigned char)word[0]) && !isupper((unsigned char)word[1]);
    for (size_t i = 0; i < sizeof place / sizeof place[0] && name; i++) {
      name = strlen(place[i]) != length || strncmp(word, place[i], length) != 0;
    }
    if (!name) {
      return end;
    }
    end = (size_t)(word - c) + length;
    if (c[end] != ' ') {
      return end;
    }
  }
  return end;
}

/// The entrance or exit at `c`. @param word Length of the word that begins there; 0 inside one, where only scripts without
/// blanks have any. @return Its length; 0 when there is none.
static size_t match_turn(const Search *search, const char *c, size_t word, bool *on)
{
  if (!strchr("eErRsS", *c) && (unsigned char)*c < 0x80) {
    return 0; // no such word begins so; most are passed over here
  }
  for (size_t i = 0; i < sizeof turn / sizeof turn[0]; i++) {
    const size_t n = strlen(turn[i].word);
    if ((turn[i].anywhere || word == n) && (!turn[i].french || search->french) &&
        strncasecmp(c, turn[i].word, n) == 0) {
      *on = turn[i].on;
      return n;
    }
  }
  return 0;
}

static void add(Search *search, double count, bool on, const char *role, size_t length)
{
  CwParser *parser = search->parser;
  CwNotebook *notebook = parser->notebook;
  char *name = role ? cw_copy_text(role, length) : NULL;
  if ((role && !name) || !cw_grow(&notebook->move, &parser->move_capacity, notebook->n_moves, sizeof *notebook->move)) {
    free(name);
    parser->full = true;
    return;
  }
  notebook->move[notebook->n_moves++] = (CwNoteMove){search->phrase, count, on, name, search->line};
}

/// "the exit", "before the exit": a place, not a turn.
static bool is_noun(const char *words, const char *word)
{
  static const char *const before[] = {"the", "an", "no", "your", "our", "before", "until", "till", "for", "la", "une"};
  const char *end = word;
  while (end > words && end[-1] == ' ') {
    end--;
  }
  for (size_t i = 0; i < sizeof before / sizeof before[0]; i++) {
    const size_t n = strlen(before[i]);
    if ((size_t)(end - words) >= n && strncasecmp(end - n, before[i], n) == 0 &&
        ((size_t)(end - words) == n || end[-(long)n - 1] == ' ')) {
      return true;
    }
  }
  return false;
}

/// Who the turn at `verb` is for: a role right before it, in its clause, or right after it. @return Its length.
static size_t find_role(const Search *search, const char *clause, const char *verb, size_t length, const char **role)
{
  *role = skip_the(clause);
  size_t named = *role < verb ? match_role(search, *role) : 0;
  if (named > 0 && skip_blanks(*role + named) == verb) {
    return named;
  }
  *role = skip_the(verb + length);
  named = match_role(search, *role);
  return named > 0 ? named : guess_role(*role);
}

/// The turns in a clause: "enter Boys DSL", "the girls exit", "run off to exit". @param count When one comes on.
/// @param over When one has gone.
static void read_clause(Search *search, const char *clause, const char *end, double count, double over)
{
  size_t word = 0; // what is left of the word at `c`
  for (const char *c = clause; c < end && !search->parser->full;) {
    const bool begins = word == 0;
    word = begins ? word_length(c) : word;
    bool on = false;
    const size_t length = word > 0 ? match_turn(search, c, begins ? word : 0, &on) : 0;
    if (length > 0 && !is_noun(clause, c)) {
      const char *role = NULL;
      const size_t named = find_role(search, clause, c, length, &role);
      const double when = on ? count : over;
      if (named > 0) {
        add(search, when, on, role, named);
      } else {
        add(search, when, on, search->role, search->role ? strlen(search->role) : 0);
      }
    }
    // inside a word only scripts without blanks have words of their own
    const size_t step = length > 0 ? length : word == 0 || (unsigned char)*c >= 0x80 ? 1 : word;
    c += step;
    word = word > step ? word - step : 0;
  }
}

/// Where the next clause begins: after a sign, "and" or "then". NULL at the end.
static const char *next_clause(const char *c)
{
  for (; *c; c++) {
    if (strchr(",;/+&.", *c)) {
      return c + 1;
    }
    if (*c != ' ' && (unsigned char)*c != 0xE3) {
      continue;
    }
    if (strncasecmp(c, " and ", 5) == 0 || strncasecmp(c, " then ", 6) == 0) {
      return c + (c[1] == 'a' || c[1] == 'A' ? 5 : 6);
    }
    if (strncmp(c, " et ", 4) == 0) {
      return c + 4;
    }
    if ((unsigned char)c[0] >= 0xE3 && (unsigned char)c[1] >= 0x80 && strncmp(c, "\xE3\x80\x81", 3) == 0) {
      return c + 3;
    }
  }
  return NULL;
}

static void read_words(Search *search, const char *words, double count, double over)
{
  for (const char *c = words; c && !search->parser->full;) {
    const char *next = next_clause(c);
    read_clause(search, c, next ? next : c + strlen(c), count, over);
    c = next;
  }
}

/// When step `i` is over: after its range, or else with the next step or the phrase.
static double end_of(const CwStep *step, size_t n, size_t i, double over)
{
  double until = step[i].until;
  size_t next = i + 1;
  for (; next < n && !*step[next].text; next++) {
    until = step[next].until;
  }
  if (until > step[i].count) {
    return floor(until) + 1;
  }
  return next < n ? step[next].count : fmax(over, until);
}

/// @param over Where the phrase ends.
static void read_steps(Search *search, const CwStep *step, size_t n, double over)
{
  for (size_t i = 0; i < n && !search->parser->full; i++) {
    if (*step[i].text) {
      read_words(search, step[i].text, step[i].count, end_of(step, n, i, over));
    }
  }
}

static void put_roles(Search *search, const char *roles)
{
  const char *name = NULL;
  if (roles && search->last && strcmp(roles, search->last) == 0) {
    return; // repeats name the same again and again
  }
  search->last = roles ? roles : search->last;
  for (size_t length = 0; roles && (length = cw_name_next(&roles, &name)) > 0;) {
    search->parser->full = search->parser->full || !cw_names_put(&search->cast, name, length, 0);
  }
}

static void find_cast(Search *search)
{
  const CwNotebook *notebook = search->parser->notebook;
  put_roles(search, notebook->head.cast);
  put_roles(search, notebook->head.role);
  for (size_t k = 0; k < notebook->n_phrases && !search->parser->full; k++) {
    put_roles(search, notebook->phrase[k].role);
    for (size_t i = 0; i < notebook->phrase[k].n_parts; i++) {
      put_roles(search, notebook->phrase[k].part[i].role);
    }
  }
}

static void read_phrase(Search *search, const CwNotePhrase *phrase)
{
  const double over = phrase->counts + 1.0;
  search->line = phrase->line;
  search->role = phrase->role;
  if (phrase->remark) {
    read_words(search, phrase->remark, 1, over);
  }
  read_steps(search, phrase->step, phrase->n_steps, over);
  for (size_t i = 0; i < phrase->n_parts && !search->parser->full; i++) {
    const CwNotePart *part = &phrase->part[i];
    search->line = part->line;
    search->role = part->role;
    if (part->remark) {
      read_words(search, part->remark, 1, over);
    }
    read_steps(search, part->step, part->n_steps, over);
  }
}

static int by_count(const void *a, const void *b)
{
  const CwNoteMove *left = a;
  const CwNoteMove *right = b;
  if (left->phrase != right->phrase) {
    return left->phrase < right->phrase ? -1 : 1;
  }
  if (left->count != right->count) {
    return left->count < right->count ? -1 : 1;
  }
  return left->line < right->line ? -1 : left->line > right->line;
}

void cw_find_moves(CwParser *parser)
{
  CwNotebook *notebook = parser->notebook;
  const char *language = notebook->head.language;
  Search search = {.parser = parser, .french = language && strncasecmp(language, "fr", 2) == 0};
  find_cast(&search);
  for (size_t k = 0; k < notebook->n_phrases && !parser->full; k++) {
    search.phrase = k;
    read_phrase(&search, &notebook->phrase[k]);
  }
  cw_names_free(&search.cast);
  if (notebook->n_moves > 1) {
    qsort(notebook->move, notebook->n_moves, sizeof *notebook->move, by_count);
  }
}
