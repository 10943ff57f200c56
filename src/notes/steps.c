// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/steps.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/lead.h"
#include "notes/marks.h"
#include "notes/words.h"

static const char *const entrance[] = {"enter", "enters", "exit", "exits", NULL};

/// A line being placed.
typedef struct {
  CwParser *parser;
  CwDraft *draft;
  CwMarkWalk walk;
  size_t words;      ///< where the words of the marks at hand begin
  size_t first_step; ///< the first step of these marks
  bool marked;       ///< there are marks at hand
  bool only_pins;    ///< each of them is a pin
  bool led;          ///< words stand before the first mark
  size_t stretched;  ///< where the counts first went past the usual number, 0 when nowhere
} Placing;

/// Words without the signs that part them from marks: "5: turn," is "turn".
static void trim_signs(const CwLineText *text, size_t *from, size_t *to)
{
  *from = cw_skip_blanks(text, *from, *to);
  while (*from < *to && strchr(":,)=|-.;/", text->key[*from])) {
    const char c = text->key[*from];
    const char next = *from + 1 < *to ? text->key[*from + 1] : ' ';
    if (next == c || (next != ' ' && strchr("-./", c))) { // "...", "-ish"
      break;
    }
    *from = cw_skip_blanks(text, *from + 1, *to);
  }
  *to = cw_trim_blanks(text, *from, *to);
  while (*to > *from && strchr(",|-;:/", text->key[*to - 1])) {
    *to = cw_trim_blanks(text, *from, *to - 1);
  }
}

static void drop_steps(CwNotePhrase *phrase, size_t from)
{
  while (phrase->n_steps > from) {
    free(phrase->step[--phrase->n_steps].text);
  }
}

/// Put [from, to) of the line after the words of a step.
static void add_words(CwParser *parser, char **words, size_t from, size_t to)
{
  const CwLineText *text = &parser->text;
  const size_t before = strlen(*words);
  const size_t length = text->at[to] - text->at[from];
  char *grown = cw_resize(*words, before + length + 2, 1);
  if (!grown) {
    parser->full = true;
    return;
  }
  *words = grown;
  const size_t at = before ? before + 1 : 0;
  grown[before] = ' ';
  memcpy(grown + at, text->words + text->at[from], length);
  grown[at + length] = '\0';
}

/// Give the words up to `to` to the marks before them; words before any mark to count 1.
static void give_words(Placing *placing, size_t to)
{
  CwParser *parser = placing->parser;
  CwNotePhrase *phrase = &placing->draft->phrase;
  size_t from = placing->words;
  trim_signs(&parser->text, &from, &to);
  if (from >= to) {
    return;
  }
  if (!placing->marked && cw_match_any(&parser->text, from, to, entrance, &(size_t){0})) {
    cw_remark_add(parser, &phrase->remark, from, to);
    return;
  }
  if (!placing->marked) {
    cw_draft_step(parser, placing->draft, 1, 1);
    placing->led = true;
  }
  if (!parser->full) {
    add_words(parser, &phrase->step[placing->first_step].text, from, to);
  }
}

/// The words of the marks at hand end at `to`.
static void end_marks(Placing *placing, size_t to)
{
  CwNotePhrase *phrase = &placing->draft->phrase;
  give_words(placing, to);
  if (!placing->parser->full && placing->marked && placing->only_pins && !*phrase->step[placing->first_step].text) {
    drop_steps(phrase, placing->first_step); // "5@1:04.2" alone says when, not what
  }
}

/// "walk 1-4 turn 5-8": where the first words have no mark and the last mark has no words, marks follow their words. Move
/// the words of each on to the next.
static void move_words_on(CwNotePhrase *phrase, size_t last)
{
  char *words = phrase->step[0].text;
  phrase->n_steps--;
  memmove(phrase->step, phrase->step + 1, phrase->n_steps * sizeof *phrase->step);
  for (size_t i = 0; i < last; i++) {
    CwStep *step = &phrase->step[i];
    if (*step->text || i + 1 == last) {
      char *moved = words;
      words = step->text;
      step->text = moved;
    }
  }
  free(words);
}

/// The words of the last marks end at `to`.
static void end_line(Placing *placing, size_t to)
{
  CwNotePhrase *phrase = &placing->draft->phrase;
  end_marks(placing, to);
  const size_t last = placing->first_step;
  if (!placing->parser->full && placing->led && last > 0 && last < phrase->n_steps && !*phrase->step[last].text) {
    move_words_on(phrase, last);
  }
}

/// Add the counts of a mark. Whole counts side by side that go up by one are a range; all others join the first.
static void add_counts(Placing *placing, const CwMark *mark)
{
  CwNotePhrase *phrase = &placing->draft->phrase;
  for (size_t i = 0; i < mark->n && !placing->parser->full; i++) {
    const CwMarkCount *count = &mark->count[i];
    const bool beside = phrase->n_steps > placing->first_step;
    CwStep *last = beside ? &phrase->step[phrase->n_steps - 1] : NULL;
    if (last && count->count == floor(count->count) && last->count == floor(last->count) &&
        last->until + 1 == count->count) {
      last->until = count->until;
    } else {
      cw_draft_step(placing->parser, placing->draft, count->count, count->until);
    }
  }
}

static bool ascends(const CwMark *mark)
{
  for (size_t i = 0; i < mark->n; i++) {
    if (mark->count[i].until < mark->count[i].count) {
      return false;
    }
  }
  return true;
}

/// Quote a mark that cannot be one of the phrase's counts. It stays among the words.
static void refuse(Placing *placing, const CwMark *mark, double from)
{
  char wanted[64];
  snprintf(wanted, sizeof wanted, "a count from %u to %u", (unsigned)(from < 1 ? 1 : from),
           placing->draft->phrase.counts);
  cw_diagnose_found(placing->parser, mark->begin, mark->end, ascends(mark) ? wanted : "a range that goes up");
}

/// Counts that run on past a number of counts that nobody wrote make the phrase longer: "5-8 turn 9-10 walk", "1-16".
static bool stretch(Placing *placing, const CwMark *mark)
{
  CwNotePhrase *phrase = &placing->draft->phrase;
  const double until = mark->count[mark->n - 1].until;
  const bool runs_on = floor(mark->count[0].count) <= floor(placing->walk.last) + 1;
  if (phrase->counts_given || !runs_on || until >= CW_COUNTS_MOST + 1.0) {
    return false;
  }
  if (placing->stretched == 0) {
    placing->stretched = mark->begin + 1;
  }
  phrase->counts = (unsigned)until;
  return true;
}

/// Whether a mark is one of the phrase's counts. Says why not, unless it is plainly another kind of number.
static bool fits(Placing *placing, const CwMark *mark)
{
  const CwNotePhrase *phrase = &placing->draft->phrase;
  const double first = mark->count[0].count;
  const double until = mark->count[mark->n - 1].until;
  // words before any mark stand on the one
  const bool words =
      !placing->marked && cw_skip_blanks(&placing->parser->text, placing->words, mark->begin) < mark->begin;
  if (ascends(mark) && first >= (words ? 1 : placing->walk.start)) {
    if (until < phrase->counts + 1.0 || stretch(placing, mark)) {
      return true;
    }
    if (until > 2.0 * phrase->counts && mark->n == 1 && !mark->count[0].range && !mark->pinned) {
      return false;
    }
  }
  refuse(placing, mark, placing->walk.start);
  return false;
}

static void place(Placing *placing, const CwMark *mark)
{
  if (!mark->follows || !placing->marked) {
    end_marks(placing, mark->begin);
    placing->first_step = placing->draft->phrase.n_steps;
    placing->only_pins = true;
    placing->marked = true;
  }
  placing->only_pins = placing->only_pins && mark->pinned;
  add_counts(placing, mark);
  placing->words = mark->end;
  cw_mark_accept(&placing->walk, mark);
}

/// The count that a mark pins; 0 when it pins none of the phrase.
static double pinned_count(const Placing *placing, const CwMark *mark)
{
  const double count = mark->count[mark->n - 1].count;
  return mark->pinned && count >= 1 && count < placing->draft->phrase.counts + 1.0 ? count : 0;
}

/// Take a mark for what it is: a count, a pin of an earlier count, or words.
static void take(Placing *placing, const CwMark *mark)
{
  const bool fitting = !(mark->pinned && mark->count[0].count < placing->walk.start) && fits(placing, mark);
  const double pinned = pinned_count(placing, mark);
  if (fitting) {
    place(placing, mark);
  } else {
    cw_mark_reject(&placing->walk, mark);
  }
  if (pinned > 0) {
    cw_draft_pin(placing->parser, placing->draft, pinned, mark->time_s, mark->begin);
  }
  if (pinned > 0 && !fitting) { // the words go on around it
    give_words(placing, mark->begin);
    placing->words = mark->end;
  }
}

void cw_read_steps(CwParser *parser, CwDraft *draft, size_t i, size_t end)
{
  Placing placing = {.parser = parser, .draft = draft, .words = i};
  CwMark mark;
  cw_mark_walk(&placing.walk, &parser->text, i, end, cw_counts_in_three(parser));
  while (!parser->full && cw_mark_next(&placing.walk, &mark)) {
    take(&placing, &mark);
  }
  if (placing.stretched > 0) {
    cw_diagnose(parser, placing.stretched - 1, "expected counts up to %u, found more: read as a phrase of %u counts",
                parser->counts_per_phrase, draft->phrase.counts);
  }
  if (!parser->full) {
    end_line(&placing, end);
  }
}
