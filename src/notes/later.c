// SPDX-License-Identifier: GPL-3.0-or-later
// "same as 7" above phrase 7: filled in when all is read. Such references can run in a circle.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/parser.h"

/// How far a phrase's chain of references has been followed.
typedef enum { UNSEEN, ON_THE_WAY, LEADS_SOMEWHERE, LEADS_NOWHERE } State;

/// All that wait, by phrase.
typedef struct {
  CwParser *parser;
  const CwLater **of; ///< NULL where a phrase has steps of its own
  unsigned char *state;
} Waiting;

static void refuse(const Waiting *waiting, const CwLater *later, State target)
{
  CwParser *parser = waiting->parser;
  CwNotePhrase *phrase = &parser->notebook->phrase[later->phrase];
  const size_t n = parser->notebook->n_phrases;
  if (!later->words && target != ON_THE_WAY) {
    return; // told where it was written
  }
  if (later->target >= n) {
    cw_diagnose_at(parser, later->line, later->column, "expected a phrase from 1 to %zu, found '%zu'", n,
                   later->target + 1);
  } else if (later->target == later->phrase) {
    cw_diagnose_at(parser, later->line, later->column, "expected another phrase, found '%zu': it is this one",
                   later->target + 1);
  } else if (target == ON_THE_WAY) {
    cw_diagnose_at(parser, later->line, later->column, "phrase %zu leads in a circle: no line says its steps",
                   later->target + 1);
  } else {
    cw_diagnose_at(parser, later->line, later->column, "phrase %zu has no steps: what it is the same as is not there",
                   later->target + 1);
  }
  if (!later->words) {
    return;
  }
  char *before = phrase->remark; // her words stay
  phrase->remark = cw_copy_text(later->words, strlen(later->words));
  parser->full = parser->full || !phrase->remark;
  free(before);
}

static void fill(CwParser *parser, const CwLater *later)
{
  CwNotePhrase *phrase = &parser->notebook->phrase[later->phrase];
  const CwNotePhrase *from = &parser->notebook->phrase[later->target];
  if (!phrase->role) {
    (void)cw_copy_to(parser, from->role, &phrase->role);
  }
  if (phrase->n_parts == 0) {
    cw_copy_parts(parser, later->target, later->other_side, phrase);
  }
  phrase->counts = later->counts_given ? phrase->counts : from->counts;
  phrase->counts_given = later->counts_given || from->counts_given;
  phrase->like = later->target;
  phrase->other_side = later->other_side;
  free(phrase->step);
  phrase->n_steps = cw_copy_steps(parser, from->step, from->n_steps, 0,
                                  phrase->counts < from->counts ? phrase->counts : 0, &phrase->step);
}

/// Follow a chain to its end and fill it in from there. It is walked once: what is known is not walked again.
static void settle(Waiting *waiting, const CwLater *later, size_t *way)
{
  size_t n = 0;
  const CwLater *at = later;
  const size_t phrases = waiting->parser->notebook->n_phrases;
  while (at && waiting->state[at->phrase] == UNSEEN) {
    waiting->state[at->phrase] = ON_THE_WAY;
    way[n++] = at->phrase;
    at = at->target < phrases ? waiting->of[at->target] : NULL;
  }
  while (n-- > 0 && !waiting->parser->full) {
    const CwLater *this = waiting->of[way[n]];
    State target = LEADS_NOWHERE;
    if (this->target < phrases) {
      target = waiting->of[this->target] ? (State)waiting->state[this->target] : LEADS_SOMEWHERE;
    }
    if (target == LEADS_SOMEWHERE) {
      fill(waiting->parser, this);
    } else {
      refuse(waiting, this, target);
    }
    // the rest of a circle is told as one, too
    waiting->state[way[n]] = target == LEADS_SOMEWHERE ? LEADS_SOMEWHERE
                             : target == ON_THE_WAY    ? ON_THE_WAY
                                                       : LEADS_NOWHERE;
  }
}

/// Phrases that repeat one that waits were written while that was empty: they wait with it.
static void add_copies(Waiting *waiting, CwLater *copy)
{
  const CwNotebook *notebook = waiting->parser->notebook;
  for (size_t k = 0; k < notebook->n_phrases; k++) {
    const CwNotePhrase *phrase = &notebook->phrase[k];
    const size_t like = phrase->like;
    if (!waiting->of[k] && like != CW_NONE && like < k && waiting->of[like] && phrase->n_steps == 0) {
      copy[k] = (CwLater){.phrase = k,
                          .target = like,
                          .line = phrase->line,
                          .column = 1,
                          .other_side = phrase->other_side,
                          .counts_given = phrase->counts != notebook->phrase[like].counts};
      waiting->of[k] = &copy[k];
    }
  }
}

static void settle_all(CwParser *parser)
{
  const size_t n = parser->notebook->n_phrases;
  Waiting waiting = {parser, cw_new(n, sizeof *waiting.of), cw_new(n, 1)};
  size_t *way = cw_new(n, sizeof *way);
  CwLater *copy = cw_new(n, sizeof *copy);
  parser->full = parser->full || !waiting.of || !waiting.state || !way || !copy;
  for (size_t i = 0; i < parser->n_later && !parser->full; i++) {
    waiting.of[parser->later[i].phrase] = &parser->later[i];
  }
  if (!parser->full) {
    add_copies(&waiting, copy);
  }
  for (size_t k = 0; k < n && !parser->full; k++) {
    if (waiting.of[k]) {
      settle(&waiting, waiting.of[k], way);
    }
  }
  free(copy);
  free(waiting.of);
  free(waiting.state);
  free(way);
}

void cw_settle_later(CwParser *parser)
{
  if (parser->n_later > 0) {
    settle_all(parser);
  }
}
