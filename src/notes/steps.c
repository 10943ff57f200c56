// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/steps.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "notes/bars.h"
#include "notes/lead.h"
#include "notes/marks.h"
#include "notes/spread.h"
#include "notes/words.h"

static const char *const entrance[] = {"enter", "enters", "exit", "exits", NULL};

/// A line being placed.
typedef struct {
  CwParser *parser;
  CwDraft *draft;
  CwMarkWalk walk;
  CwBars bars;       ///< bars counted aloud
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

/// "1-3 run hold 4-8": where the last mark has no words, and `hold` stands right before it, it is that mark's.
static void move_hold(CwParser *parser, CwNotePhrase *phrase, size_t last)
{
  size_t before = last;
  while (before > 0 && !*phrase->step[before - 1].text) {
    before--;
  }
  char *words = before > 0 ? phrase->step[before - 1].text : NULL;
  size_t end = words ? strlen(words) : 0;
  if (end < 6 || strcasecmp(words + end - 5, " hold") != 0) {
    return;
  }
  char *hold = cw_copy_text(words + end - 4, 4);
  if (!hold) {
    parser->full = true;
    return;
  }
  end -= 5;
  while (end > 1 && strchr(" ,-", words[end - 1])) {
    end--;
  }
  words[end] = '\0';
  free(phrase->step[last].text);
  phrase->step[last].text = hold;
}

/// The words of the last marks end at `to`.
static void end_line(Placing *placing, size_t to)
{
  CwNotePhrase *phrase = &placing->draft->phrase;
  const bool spread = placing->parser->spread && !placing->marked;
  if (spread) {
    size_t from = placing->words;
    size_t end = to;
    trim_signs(&placing->parser->text, &from, &end);
    if (!cw_match_any(&placing->parser->text, from, end, entrance, &(size_t){0})) {
      cw_spread_words(placing->parser, placing->draft, from, end);
      return;
    }
  }
  end_marks(placing, to);
  const size_t last = placing->first_step;
  if (!placing->parser->full && placing->led && last > 0 && last < phrase->n_steps && !*phrase->step[last].text) {
    move_words_on(phrase, last);
  } else if (!placing->parser->full && last > 0 && last < phrase->n_steps && !*phrase->step[last].text) {
    move_hold(placing->parser, phrase, last);
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

/// Whether nothing comes after a mark but words and marks beside it.
static bool is_last(const Placing *placing, const CwMark *mark)
{
  CwMarkWalk walk = placing->walk;
  CwMark next;
  cw_mark_accept(&walk, mark);
  return !cw_mark_next(&walk, &next) || next.follows;
}

/// A mark that runs over the phrase's end, the last of its line: "7-2", "7-10" of 8, "8&1", or 1 beside 8. Its counts
/// are then those of the phrase, on past the last.
static bool runs_over(Placing *placing, CwMark *mark)
{
  const unsigned counts = placing->draft->phrase.counts;
  CwMarkCount *last = &mark->count[mark->n - 1];
  const double first = mark->count[0].count;
  double until = last->until;
  const double whole = floor(placing->walk.last);
  if (mark->n == 1 && mark->follows && placing->marked && first <= whole - counts + 1 && first > whole - counts) {
    last->count += counts; // 1 beside 8, 2 beside it
    until += counts;
  } else if (mark->n == 1 && last->range && first >= placing->walk.start && first < counts + 1.0) {
    until = until < first ? counts + until : until;
  } else if (!mark->wraps || until != counts + 1.0 || first < placing->walk.start) {
    return false;
  }
  if (until < counts + 1.0 || until > 2.0 * counts || !is_last(placing, mark)) {
    last->count = mark->n == 1 ? first : last->count;
    return false;
  }
  last->until = until;
  placing->parser->over_line = placing->parser->line;
  placing->parser->over_column = mark->begin + 1;
  return true;
}

/// Whether a mark is one of the phrase's counts. Says why not, unless it is plainly another kind of number.
static bool fits(Placing *placing, CwMark *mark)
{
  const CwNotePhrase *phrase = &placing->draft->phrase;
  const double first = mark->count[0].count;
  const double until = mark->count[mark->n - 1].until;
  // words before any mark stand on the one
  const bool words =
      !placing->marked && cw_skip_blanks(&placing->parser->text, placing->words, mark->begin) < mark->begin;
  if (ascends(mark) && first >= (words ? 1 : placing->walk.start)) {
    if (until < phrase->counts + 1.0 || (!mark->wraps && stretch(placing, mark))) {
      return true;
    }
    if (until > 2.0 * phrase->counts && mark->n == 1 && !mark->count[0].range && !mark->pinned) {
      return false;
    }
  }
  if (runs_over(placing, mark)) {
    return true;
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
static void take(Placing *placing, CwMark *mark)
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
  (void)cw_bars_find(parser, i, end, &placing.bars);
  while (!parser->full && cw_mark_next(&placing.walk, &mark)) {
    cw_bars_take(&placing.bars, &mark);
    take(&placing, &mark);
  }
  if (placing.stretched > 0) {
    cw_diagnose(parser, placing.stretched - 1, "expected counts up to %u, found more: read as a phrase of %u counts",
                cw_usual_counts(parser), draft->phrase.counts);
  }
  if (!parser->full) {
    end_line(&placing, end);
  }
}

void cw_check_ends(CwParser *parser)
{
  const CwNotebook *notebook = parser->notebook;
  if (parser->over_line == 0 || notebook->n_phrases == 0) {
    return;
  }
  const CwNotePhrase *last = &notebook->phrase[notebook->n_phrases - 1];
  if (last->line == parser->over_line) {
    cw_diagnose_at(parser, parser->over_line, parser->over_column,
                   "expected a phrase after this one for the step to run into, found the end of the notes");
  }
}
