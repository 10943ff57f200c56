// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/repeats.h"

void cw_draft_start(CwParser *parser, CwDraft *draft, const CwLineStart *start)
{
  if (start->n_pins > 0) {
    cw_draft_pin(parser, draft, start->pin[0].count, start->pin[0].time_s, start->pin[0].column - 1);
  }
  if (start->role < start->role_end) {
    free(draft->phrase.role);
    draft->phrase.role = cw_line_text_copy(&parser->text, start->role, start->role_end);
    parser->full = parser->full || !draft->phrase.role;
  }
}

void cw_pin_later_phrases(CwParser *parser, size_t first, const CwLineStart *start)
{
  CwNotebook *notebook = parser->notebook;
  for (size_t i = 1; i < start->n_pins && !parser->full; i++) {
    if (first + i >= notebook->n_phrases) {
      cw_diagnose(parser, start->pin[i].column - 1, "expected at most a pin for each phrase of the line, found more");
      return;
    }
    CwNotePhrase *phrase = &notebook->phrase[first + i];
    CwPin *grown = cw_resize(phrase->pin, phrase->n_pins + 1, sizeof *grown);
    parser->full = !grown;
    if (grown) {
      phrase->pin = grown;
      phrase->pin[phrase->n_pins++] = start->pin[i];
    }
  }
}

bool cw_repeats_cut(CwParser *parser, bool *told)
{
  if (parser->notebook->n_phrases < CW_REPEAT_PHRASES && parser->copied_bytes < CW_REPEAT_BYTES) {
    return false;
  }
  if (!*told) {
    cw_diagnose(parser, parser->begin, "repeats are cut here, at %zu phrases", parser->notebook->n_phrases);
    *told = true;
  }
  return true;
}

/// Fill a draft with the steps of phrase `k`, as far as its counts go.
static void copy_steps(CwParser *parser, CwDraft *draft, size_t k)
{
  const CwNotePhrase *from = &parser->notebook->phrase[k];
  for (size_t i = 0; i < from->n_steps && !parser->full; i++) {
    const CwStep *step = &from->step[i];
    if (step->count >= draft->phrase.counts + 1.0) {
      break;
    }
    const size_t before = draft->phrase.n_steps;
    const unsigned counts = draft->phrase.counts;
    cw_draft_step(parser, draft, step->count, step->until < counts + 1.0 ? step->until : counts);
    char *text = cw_copy_text(step->text, strlen(step->text));
    if (!text || draft->phrase.n_steps == before) {
      parser->full = true;
      free(text);
      return;
    }
    free(draft->phrase.step[before].text);
    draft->phrase.step[before].text = text;
    parser->copied_bytes += sizeof *step + strlen(text);
  }
}

void cw_write_again(CwParser *parser, size_t k, bool mirrored, const CwLineStart *start)
{
  const CwNotePhrase *from = &parser->notebook->phrase[k];
  CwDraft draft;
  cw_draft_begin(parser, &draft);
  draft.phrase.counts = start && start->counts ? start->counts : from->counts;
  draft.phrase.counts_given = from->counts_given || (start && start->counts);
  draft.phrase.like = k;
  draft.phrase.other_side = mirrored;
  if (from->role) {
    draft.phrase.role = cw_copy_text(from->role, strlen(from->role));
    parser->full = parser->full || !draft.phrase.role;
  }
  copy_steps(parser, &draft, k);
  if (start) {
    cw_draft_start(parser, &draft, start);
  }
  parser->copied_bytes += sizeof draft.phrase;
  cw_draft_end(parser, &draft);
}

void cw_repeat_last(CwParser *parser, const CwAgain *again)
{
  const size_t first = parser->notebook->n_phrases - 1;
  bool told = false;
  for (unsigned i = 1; i < again->times && !parser->full && !cw_repeats_cut(parser, &told); i++) {
    cw_write_again(parser, first, again->other_side && i % 2 == 1, NULL);
  }
}
