// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "notes/lead.h"
#include "notes/marks.h"
#include "notes/parser.h"
#include "notes/tempo.h"
#include "notes/words.h"

/// Longest key looked at, in characters and in words.
enum { LONGEST_KEY = 32, MOST_KEY_WORDS = 3 };

/// Keep the value's words, the first time they are given.
static void set_words(CwParser *parser, char **words, size_t i)
{
  if (*words) {
    cw_diagnose(parser, parser->begin, "given twice; the first holds");
  } else if (i < parser->end) {
    *words = cw_line_text_copy(&parser->text, i, parser->end);
    parser->full = parser->full || !*words;
  }
}

static void set_piece(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.piece, i);
}

static void set_dance(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.dance, i);
}

static void set_role(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.role, i);
}

static void set_recording(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.recording, i);
}

static void set_carried_from(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.carried_from, i);
}

static void set_language(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.language, i);
}

static void set_glossary(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.glossary, i);
}

static void set_cast(CwParser *parser, size_t i)
{
  set_words(parser, &parser->notebook->head.cast, i);
}

static void set_spread(CwParser *parser, size_t i)
{
  static const char *const yes[] = {"yes", "on", "oui", NULL};
  static const char *const no[] = {"no", "off", "non", NULL};
  const bool on = cw_match_any(&parser->text, i, parser->end, yes, &(size_t){0});
  if (!on && !cw_match_any(&parser->text, i, parser->end, no, &(size_t){0})) {
    cw_diagnose_found(parser, i, parser->end, "'yes' or 'no'");
    return;
  }
  parser->spread = on;
  parser->notebook->head.spread = parser->head_over ? parser->notebook->head.spread : on;
}

static void set_tempo(CwParser *parser, size_t i)
{
  CwNoteHead *head = &parser->notebook->head;
  const bool again = head->tempo && !parser->head_over;
  if (!parser->head_over) {
    set_words(parser, &head->tempo, i);
  }
  if (!again && cw_read_tempo(&parser->text, i, parser->end, false, &parser->tempo)) {
    parser->section_tempo = (CwNotedTempo){0, 0}; // the later of the two holds
    head->tempo_range = parser->head_over ? head->tempo_range : parser->tempo;
  }
}

static void set_metre(CwParser *parser, size_t i)
{
  const CwLineText *text = &parser->text;
  unsigned beats = 0;
  unsigned unit = 0;
  size_t after = cw_read_digits(text, i, parser->end, &beats);
  size_t slash = cw_skip_blanks(text, after, parser->end);
  if (slash < parser->end && text->key[slash] == '/') {
    after = cw_read_digits(text, cw_skip_blanks(text, slash + 1, parser->end), parser->end, &unit);
    unit = unit ? unit : CW_COUNTS_MOST; // "3/" is no metre
  }
  if (after < parser->end || beats == 0 || beats > 32 || unit > 32 || (unit & (unit - 1)) != 0) {
    cw_diagnose_found(parser, i, parser->end, "a metre such as '3/4'");
    return;
  }
  parser->metre = beats;
  parser->metre_unit = unit;
}

static void set_beats_per_count(CwParser *parser, size_t i)
{
  const CwLineText *text = &parser->text;
  double beats = 0;
  size_t after = i;
  unsigned above = 0;
  unsigned below = 0;
  const size_t slash = cw_read_digits(text, i, parser->end, &above);
  if (slash > i && slash < parser->end && text->key[slash] == '/') { // "1/2"
    after = cw_read_digits(text, slash + 1, parser->end, &below);
    beats = below ? (double)above / below : 0;
  } else if (!cw_read_time(text, i, parser->end, &after, &beats)) { // a time in seconds is a decimal number
    after = i;
  }
  if (after < parser->end || !(beats > 0 && beats <= 32) || memchr(text->key + i, ':', after - i)) {
    cw_diagnose_found(parser, i, parser->end, "a number of beats such as '1', '3' or '0.5'");
    return;
  }
  parser->beats_per_count = beats;
}

static void set_counts_per_phrase(CwParser *parser, size_t i)
{
  unsigned counts = 0;
  const size_t after = cw_read_digits(&parser->text, i, parser->end, &counts);
  if (after < parser->end || counts == 0 || counts > CW_COUNTS_MOST) {
    cw_diagnose_found(parser, i, parser->end, "a number of counts such as '8'");
    return;
  }
  parser->counts_per_phrase = counts;
  if (!parser->head_over) {
    parser->notebook->head.counts_per_phrase = counts;
  }
}

static void set_first_one(CwParser *parser, size_t i)
{
  const CwLineText *text = &parser->text;
  size_t at = i;
  if (at < parser->end && text->key[at] == '@') {
    at = cw_skip_blanks(text, at + 1, parser->end);
  }
  double time_s = 0;
  if (!cw_read_time(text, at, parser->end, &at, &time_s) || at < parser->end) {
    cw_diagnose_found(parser, i, parser->end, "a time such as '0:12.4'");
    return;
  }
  parser->notebook->head.first_one_s = time_s;
  parser->first_one = (CwPin){.count = 1, .time_s = time_s, .line = parser->line, .column = i + 1};
}

/// The keys. Those of the music may be given again later: they hold from there on.
static const struct {
  const char *name;
  bool of_music;
  void (*set)(CwParser *parser, size_t i);
} head_key[] = {
    {"piece", false, set_piece},
    {"dance", false, set_dance},
    {"role", false, set_role},
    {"recording", false, set_recording},
    {"carried from", false, set_carried_from},
    {"metre", true, set_metre},
    {"meter", true, set_metre},
    {"beats per count", true, set_beats_per_count},
    {"first one", false, set_first_one},
    {"counts per phrase", true, set_counts_per_phrase},
    {"language", false, set_language},
    {"glossary", false, set_glossary},
    {"tempo", true, set_tempo},
    {"cast", false, set_cast},
    {"roles", false, set_cast},
    {"spread", true, set_spread},
};

enum { KEYS = sizeof head_key / sizeof head_key[0] };

/// The colon after a key of letters and blanks; `end` when the line does not begin with one.
static size_t find_colon(const CwParser *parser)
{
  const char *key = parser->text.key;
  size_t words = 1;
  for (size_t i = parser->begin; i < parser->end && i - parser->begin <= LONGEST_KEY; i++) {
    if (key[i] == ':') {
      return i > parser->begin ? i : parser->end;
    }
    if (key[i] != ' ' && (!cw_is_word_character(key[i]) || cw_is_digit(key[i]))) {
      return parser->end;
    }
    words += key[i] == ' ' && key[i + 1] != ' ' && key[i + 1] != ':';
    if (words > MOST_KEY_WORDS) {
      return parser->end;
    }
  }
  return parser->end;
}

static size_t find_key(const CwParser *parser, size_t colon)
{
  for (size_t k = 0; k < KEYS; k++) {
    size_t after = 0;
    if (cw_match_words(&parser->text, parser->begin, colon, head_key[k].name, &after) &&
        cw_skip_blanks(&parser->text, after, colon) == colon) {
      return k;
    }
  }
  return KEYS;
}

/// "Girls: 1-4 run" is no head line: its value begins with a mark of more than one count.
static bool begins_with_marks(const CwParser *parser, size_t i)
{
  CwMarkWalk walk;
  CwMark mark;
  cw_mark_walk(&walk, &parser->text, i, parser->end, false);
  return cw_mark_at(&walk, i, &mark) && (mark.n > 1 || mark.count[0].range || mark.pinned);
}

/// Until the head is over, the numbers of the head are those in force.
static void keep_numbers(CwParser *parser)
{
  CwNoteHead *head = &parser->notebook->head;
  head->metre = parser->metre;
  head->metre_unit = parser->metre_unit;
  head->beats_per_count = parser->beats_per_count;
}

bool cw_read_head_line(CwParser *parser)
{
  const size_t colon = find_colon(parser);
  if (colon == parser->end) {
    return false;
  }
  const size_t value = cw_skip_blanks(&parser->text, colon + 1, parser->end);
  const size_t k = find_key(parser, colon);
  if (k == KEYS) {
    if (parser->head_over || begins_with_marks(parser, value)) {
      return false;
    }
    cw_diagnose(parser, parser->begin, "'%.*s' is not a head key",
                (int)(parser->text.at[colon] - parser->text.at[parser->begin]),
                parser->text.words + parser->text.at[parser->begin]);
    return true;
  }
  if (parser->head_over && !head_key[k].of_music) {
    return false;
  }
  if (value < parser->end) {
    head_key[k].set(parser, value);
  }
  if (!parser->head_over) {
    keep_numbers(parser);
  }
  return true;
}
