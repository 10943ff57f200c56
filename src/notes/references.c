// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/references.h"

#include <stdio.h>
#include <string.h>

#include "base/memory.h"
#include "notes/endings.h"
#include "notes/words.h"

static const char *const phrase_word[] = {"phrases", "phrase", "eights", "eight", "numbers", "number", "no.", NULL};
static const char *const section_word[] = {"section", "part", NULL};
static const char *const all_word[] = {
    "all", "from the top", "from top", "the whole", "from the start", "from the beginning", NULL};
static const char *const to_word[] = {"to the end of", "to", "through", NULL};
static const char *const until_word[] = {"until", "till", "up to", NULL};
static const char *const ordinal_end[] = {"st", "nd", "rd", "th", NULL};
static const char *const before_word[] = {"before", "above", "the one before", "last", "the last", NULL};

/// Words that a heading's name may have where a repeat names it.
enum { MOST_NAME_WORDS = 8 };

static size_t skip_commas(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && strchr(" ,.", text->key[i])) {
    i++;
  }
  return i;
}

/// Keep what exists of a reference written in [i, end); say what does not. Numbers from 1.
static void keep_reference(CwParser *parser, size_t i, size_t end, unsigned first, unsigned last, CwReferences *all)
{
  const size_t existing = parser->notebook->n_phrases;
  char wanted[64] = "a phrase before this one";
  if (existing > 0) {
    snprintf(wanted, sizeof wanted, "a phrase from 1 to %zu", existing);
  }
  if (first == 0 || first > last || last > existing) {
    cw_diagnose_found(parser, i, end, wanted);
  }
  if (first > 0 && first <= last && first <= existing && all->n < CW_REFERENCES_MOST) {
    all->reference[all->n++] = (CwReference){first - 1, (last < existing ? last : existing) - 1};
  }
}

/// The number after what parts two references: a comma, "&", "+" or "and". `end` when there is none.
static size_t next_reference(const CwLineText *text, size_t i, size_t end)
{
  size_t next = cw_skip_blanks(text, i, end);
  if (next < end && strchr(",&+", text->key[next])) {
    next++;
  } else if (!cw_match_words(text, next, end, "and", &next)) {
    return end;
  }
  next = cw_skip_blanks(text, next, end);
  return next < end && cw_is_digit(text->key[next]) ? next : end;
}

/// The last number of "3-6" or "3 to 6" after its first. @return The first character after it; `after` without one.
static size_t read_last(const CwLineText *text, size_t after, size_t end, unsigned *last)
{
  size_t number = cw_skip_blanks(text, after, end);
  if (number < end && text->key[number] == '-') {
    number++;
  } else if (!cw_match_any(text, number, end, to_word, &number)) {
    return after;
  }
  number = cw_skip_blanks(text, number, end);
  unsigned value = 0;
  const size_t stop = cw_read_digits(text, number, end, &value);
  *last = stop > number ? value : *last;
  return stop > number ? stop : after;
}

/// "3", "3-6"; several unless it is "same as". @return The first character after them.
static size_t read_numbers(CwParser *parser, size_t i, size_t end, CwRepeatKind kind, CwReferences *all)
{
  const CwLineText *text = &parser->text;
  while (all->n < CW_REFERENCES_MOST) {
    unsigned first = 0;
    size_t after = cw_read_digits(text, i, end, &first);
    unsigned last = first;
    (void)cw_match_any(text, after, end, ordinal_end, &after);
    const size_t stop = read_last(text, after, end, &last);
    if (kind == CW_SAME_AS && stop == after && first > parser->notebook->n_phrases && parser->within == 0) {
      all->later = first;
      all->later_at = i;
      return stop;
    }
    keep_reference(parser, i, stop, first, last, all);
    const size_t next = next_reference(text, stop, end);
    if (kind == CW_SAME_AS || next == end) {
      return stop;
    }
    i = next;
  }
  return i;
}

/// The heading whose name begins at `i`, the longest that there is. @param[out] next First character after it.
static size_t find_section(const CwParser *parser, size_t i, size_t end, size_t *next)
{
  const CwLineText *text = &parser->text;
  size_t stop[MOST_NAME_WORDS];
  size_t n = 0;
  for (size_t at = i; at < end && n < MOST_NAME_WORDS && text->key[at] != ';';) {
    at = cw_word_end(text, at, end);
    stop[n++] = at;
    at = cw_skip_blanks(text, at, end);
  }
  while (n-- > 0) {
    size_t to = stop[n];
    while (to > i && strchr(",.:", text->key[to - 1])) {
      to--;
    }
    const size_t found = cw_names_find(&parser->section_names, text->words + text->at[i], text->at[to] - text->at[i]);
    if (found != CW_NO_NAME && to > i) {
      *next = to;
      return found;
    }
  }
  return CW_NO_NAME;
}

static size_t section_end(const CwParser *parser, size_t section)
{
  return section + 1 < parser->notebook->n_sections ? parser->sections[section + 1].first : parser->notebook->n_phrases;
}

/// The last heading of those words that has phrases, from `section` back.
static size_t with_phrases(const CwParser *parser, size_t section)
{
  while (section != CW_NO_NAME && parser->sections[section].first == section_end(parser, section)) {
    section = parser->sections[section].before;
  }
  return section;
}

/// The phrases of a section. Inside its first ending they are those before it.
static CwReference phrases_of(CwParser *parser, size_t section)
{
  CwReference phrases = {parser->sections[section].first, section_end(parser, section) - 1};
  const CwEndings *here = cw_endings_here(parser);
  if (here && here->section == section && here->body_end > phrases.first) {
    phrases = (CwReference){here->body_first, here->body_end - 1};
  }
  return phrases;
}

/// "repeat A, 2nd ending": what comes before the endings, and that one.
static size_t take_ending(CwParser *parser, size_t i, size_t end, size_t section, CwReferences *all)
{
  const CwLineText *text = &parser->text;
  size_t at = skip_commas(text, i, end);
  if (cw_match_words(text, at, end, "with", &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  if (cw_match_words(text, at, end, "the", &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  unsigned ending = 0;
  const size_t after = cw_match_ending(text, at, end, &ending);
  if (after == at) {
    return i;
  }
  const CwEndings *endings = cw_endings_of(parser, section);
  if (!endings || ending > endings->n) {
    cw_diagnose_found(parser, at, after, "an ending of that section");
    return after;
  }
  all->n--;
  const CwReference part[] = {{endings->body_first, endings->body_end - 1},
                              {endings->first[ending - 1], cw_ending_end(parser, endings, ending) - 1}};
  for (size_t k = 0; k < 2; k++) {
    if (part[k].last + 1 > part[k].first && all->n < CW_REFERENCES_MOST) {
      all->reference[all->n++] = part[k];
    }
  }
  return after;
}

/// "section A", "A", "the Waltz". @param kind After "da capo" the name must be there.
static bool read_section(CwParser *parser, size_t *i, size_t end, CwRepeatKind kind, CwReferences *all)
{
  const CwLineText *text = &parser->text;
  size_t at = *i;
  size_t next = at;
  size_t section = find_section(parser, at, end, &next); // "The nets" and "Section A" may be whole headings
  if (section == CW_NO_NAME && cw_match_words(text, at, end, "the", &at)) {
    at = cw_skip_blanks(text, at, end);
    section = find_section(parser, at, end, &next);
  }
  const bool said = section == CW_NO_NAME && cw_match_any(text, at, end, section_word, &at);
  if (said) {
    at = cw_skip_blanks(text, at, end);
    section = find_section(parser, at, end, &next);
  }
  section = with_phrases(parser, section);
  if (section != CW_NO_NAME) {
    all->reference[all->n++] = phrases_of(parser, section);
    *i = take_ending(parser, next, end, section, all);
    return true;
  }
  if (said || kind == CW_DA_CAPO) {
    cw_diagnose_found(parser, at, end, "a heading above with phrases");
    *i = at;
    return true;
  }
  return false;
}

/// How far "from the top" goes: "to 6", "to the Coda", "until the Coda", "al fine". @return The phrase after the last.
static size_t read_until(CwParser *parser, size_t *i, size_t end)
{
  const CwLineText *text = &parser->text;
  const size_t existing = parser->notebook->n_phrases;
  size_t at = skip_commas(text, *i, end);
  size_t fine = at;
  const size_t before = at;
  if (cw_match_words(text, at, end, "al fine", &fine) || cw_match_words(text, at, end, "to fine", &fine)) {
    if (parser->fine == 0) {
      cw_diagnose_found(parser, at, fine, "'fine' on a line above");
    }
    *i = fine;
    return parser->fine > 0 ? parser->fine : existing;
  }
  const bool until = cw_match_any(text, at, end, until_word, &at);
  if (!until && !cw_match_any(text, at, end, to_word, &at)) {
    return existing;
  }
  at = cw_skip_blanks(text, at, end);
  if (cw_match_any(text, at, end, phrase_word, &at) || cw_match_words(text, at, end, "the", &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  unsigned last = 0;
  const size_t number = cw_read_digits(text, at, end, &last);
  if (number > at) {
    CwReferences one = {.n = 0};
    keep_reference(parser, at, number, 1, last, &one);
    *i = number;
    return one.n ? one.reference[0].last + 1 : 0;
  }
  size_t next = at;
  (void)(cw_match_any(text, at, end, section_word, &at));
  at = cw_skip_blanks(text, at, end);
  const size_t section = with_phrases(parser, find_section(parser, at, end, &next));
  if (section == CW_NO_NAME) {
    cw_diagnose_found(parser, at < end ? at : before, end, "a phrase or a heading above");
    *i = end;
    return 0;
  }
  *i = next;
  return until ? parser->sections[section].first : section_end(parser, section);
}

/// "from the top to 6".
static void read_from_top(CwParser *parser, size_t at, size_t *i, size_t end, CwReferences *all)
{
  const size_t stop = read_until(parser, i, end);
  if (parser->notebook->n_phrases == 0) {
    cw_diagnose_found(parser, at, *i, "a phrase before this one");
  } else if (stop > 0) {
    all->reference[all->n++] = (CwReference){0, stop - 1};
  }
}

bool cw_read_references(CwParser *parser, size_t *i, size_t end, CwRepeatKind kind, CwReferences *all)
{
  const CwLineText *text = &parser->text;
  const unsigned existing = (unsigned)parser->notebook->n_phrases;
  unsigned times = 0;
  size_t at = skip_commas(text, *i, end);
  if (cw_match_any(text, at, end, phrase_word, &at)) {
    at = cw_skip_blanks(text, at, end);
  }
  *i = at;
  if (cw_match_any(text, at, end, all_word, i) ||
      (kind == CW_DA_CAPO &&
       (at == end || cw_match_words(text, at, end, "al fine", &(size_t){0}) ||
        cw_match_any(text, at, end, to_word, &(size_t){0}) || cw_match_any(text, at, end, until_word, &(size_t){0})))) {
    read_from_top(parser, parser->begin, i, end, all);
  } else if (at == end || cw_match_any(text, at, end, before_word, i) || cw_match_side(text, at, end, &(size_t){0}) ||
             cw_match_so_often(text, at, end, &(size_t){0}, &times)) {
    keep_reference(parser, parser->begin, end, existing, existing, all);
  } else if (cw_is_digit(text->key[at]) || (cw_match_words(text, at, end, "from", &at) &&
                                            (at = cw_skip_blanks(text, at, end)) < end && cw_is_digit(text->key[at]))) {
    *i = read_numbers(parser, at, end, kind, all);
    (void)cw_match_any(text, cw_skip_blanks(text, *i, end), end, phrase_word, i); // "2nd phrase"
  } else {
    return read_section(parser, i, end, kind, all);
  }
  return true;
}

/// The part of a heading that names it: "A" of "A: the ferry, slowly".
static size_t short_end(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && !strchr(",:(=-", text->key[i])) {
    i++;
  }
  return i;
}

static void put_name(CwParser *parser, size_t i, size_t end, size_t section)
{
  const CwLineText *text = &parser->text;
  i = cw_skip_blanks(text, i, end);
  end = cw_trim_blanks(text, i, end);
  parser->full = parser->full ||
                 !cw_names_put(&parser->section_names, text->words + text->at[i], text->at[end] - text->at[i], section);
}

void cw_section_begin(CwParser *parser, size_t i, size_t end)
{
  const CwLineText *text = &parser->text;
  i = cw_skip_blanks(text, i, end);
  const size_t section = parser->notebook->n_sections - 1;
  const size_t brief = short_end(text, i, end);
  size_t name = i;
  (void)(cw_match_any(text, i, end, section_word, &name));
  name = cw_skip_blanks(text, name, end);
  size_t trimmed = cw_trim_blanks(text, name, brief);
  trimmed = trimmed > name ? trimmed : name;
  if (!cw_grow(&parser->sections, &parser->sections_capacity, section, sizeof *parser->sections)) {
    parser->full = true;
    return;
  }
  size_t before = CW_NO_NAME;
  if (trimmed > name) {
    before = cw_names_find(&parser->section_names, text->words + text->at[name], text->at[trimmed] - text->at[name]);
  }
  parser->sections[section] = (CwSection){parser->notebook->n_phrases, CW_NO_NAME};
  if (before != CW_NO_NAME && parser->sections[before].first == section_end(parser, before)) {
    before = parser->sections[before].before; // empty headings are passed over once, not by each repeat
  }
  parser->sections[section].before = before;
  put_name(parser, i, end, section);
  if (trimmed > name) {
    put_name(parser, name, trimmed, section);
  }
}
