// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/endings.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/words.h"

static const struct {
  const char *word;
  unsigned ending;
} ordinal[] = {{"1st ending", 1},    {"first ending", 1}, {"ending 1", 1},      {"2nd ending", 2},
               {"second ending", 2}, {"ending 2", 2},     {"3rd ending", 3},    {"ending 3", 3},
               {"third ending", 3},  {"4th ending", 4},   {"fourth ending", 4}, {"ending 4", 4}};

size_t cw_match_ending(const CwLineText *text, size_t i, size_t end, unsigned *ending)
{
  for (size_t k = 0; k < sizeof ordinal / sizeof ordinal[0]; k++) {
    size_t after = i;
    if (cw_match_words(text, i, end, ordinal[k].word, &after)) {
      *ending = ordinal[k].ending;
      return cw_skip_signs(text, after, end);
    }
  }
  return i;
}

size_t cw_read_ending_word(CwParser *parser, size_t i, CwLineStart *start)
{
  const size_t after = cw_match_ending(&parser->text, i, parser->end, &start->ending);
  start->ending_at = after > i ? i : start->ending_at;
  return after;
}

static size_t section_here(const CwParser *parser)
{
  return parser->notebook->n_sections ? parser->notebook->n_sections - 1 : CW_NONE;
}

CwEndings *cw_endings_of(CwParser *parser, size_t section)
{
  size_t low = 0;
  size_t high = parser->n_endings; // they stand in the order of their sections, CW_NONE first
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (parser->endings[middle].section + 1 <= section + 1) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low > 0 && parser->endings[low - 1].section == section ? &parser->endings[low - 1] : NULL;
}

CwEndings *cw_endings_here(CwParser *parser)
{
  CwEndings *last = parser->n_endings ? &parser->endings[parser->n_endings - 1] : NULL;
  return last && last->open && last->section == section_here(parser) ? last : NULL;
}

size_t cw_ending_end(const CwParser *parser, const CwEndings *endings, unsigned ending)
{
  if (ending < endings->n || !endings->open) {
    return endings->end[ending - 1];
  }
  const size_t next = endings->section + 1; // CW_NONE + 1 is the first section
  return next < parser->notebook->n_sections ? parser->sections[next].first : parser->notebook->n_phrases;
}

static void begin_first(CwParser *parser, const CwLineStart *start, bool alone)
{
  const size_t section = section_here(parser);
  const CwEndings *before = cw_endings_of(parser, section);
  const size_t n = parser->notebook->n_phrases;
  size_t body = section == CW_NONE ? 0 : parser->sections[section].first;
  body = before ? cw_ending_end(parser, before, before->n) : body;
  if (body >= n) {
    cw_diagnose(parser, start->ending_at, "expected phrases before the first ending, found none");
  }
  if (!cw_grow(&parser->endings, &parser->endings_capacity, parser->n_endings, sizeof *parser->endings)) {
    parser->full = true;
    return;
  }
  parser->endings[parser->n_endings++] = (CwEndings){
      .section = section, .body_first = body, .body_end = n, .first = {n}, .n = 1, .open = true, .line = !alone};
}

/// Write out again what comes before the first ending. Pins of the line are those of its one.
static void write_body(CwParser *parser, const CwEndings *endings, CwLineStart *start)
{
  const CwLineStart pins = {.pin = start->pin, .n_pins = start->n_pins};
  const CwEndings body = *endings;
  bool told = false;
  for (size_t k = body.body_first; k < body.body_end && !parser->full && !cw_repeats_cut(parser, &told); k++) {
    cw_write_again(parser, k, false, k == body.body_first ? &pins : NULL);
    start->pinned = true;
  }
}

static bool begin_later(CwParser *parser, CwLineStart *start, bool alone)
{
  CwEndings *endings = cw_endings_of(parser, section_here(parser));
  if (!endings || endings->n + 1 != start->ending || endings->n == CW_ENDINGS_MOST) {
    cw_diagnose(parser, start->ending_at, "expected ending %u of this section before ending %u",
                endings ? endings->n + (endings->n < start->ending) : 1, start->ending);
    return false;
  }
  if (!endings->written) {
    endings->end[endings->n - 1] = parser->notebook->n_phrases;
    write_body(parser, endings, start);
  }
  endings->first[endings->n++] = parser->notebook->n_phrases;
  endings->written = false;
  endings->open = true;
  endings->line = !alone;
  return true;
}

bool cw_ending_begins(CwParser *parser, CwLineStart *start, bool alone)
{
  if (start->ending == 0) {
    return false;
  }
  if (start->ending == 1) {
    begin_first(parser, start, alone);
  } else if (!begin_later(parser, start, alone)) {
    return alone;
  }
  if (alone && start->n_pins > 0 && !start->pinned) {
    cw_diagnose(parser, parser->begin, "expected a phrase to pin on this line, found none");
  }
  return alone;
}

void cw_ending_line_over(CwParser *parser)
{
  CwEndings *endings = cw_endings_here(parser);
  if (endings && endings->line && endings->n > 1) { // the first goes on until the second
    endings->end[endings->n - 1] = parser->notebook->n_phrases;
    endings->open = false;
  }
}
