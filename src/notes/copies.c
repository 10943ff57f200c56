// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/names.h"
#include "notes/repeats.h"

void cw_draft_start(CwParser *parser, CwDraft *draft, const CwLineStart *start)
{
  if (start->n_pins > 0 && !start->pinned) {
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

/// The steps and the role of the phrase that are the line's own: a part's when the line is for that part's role.
static const CwNotePart *part_for(CwParser *parser, const CwNotePhrase *phrase, const CwLineStart *start)
{
  if (!start || start->role == start->role_end || phrase->n_parts == 0) {
    return NULL;
  }
  char *role = cw_line_text_copy(&parser->text, start->role, start->role_end);
  const CwNotePart *found = NULL;
  parser->full = parser->full || !role;
  for (size_t i = 0; role && i < phrase->n_parts && !found; i++) {
    const char *name = phrase->part[i].role;
    found = name && cw_name_is(name, role) ? &phrase->part[i] : NULL;
  }
  free(role);
  return found;
}

void cw_copy_parts(CwParser *parser, size_t k, bool mirrored, CwNotePhrase *to)
{
  const CwNotePhrase *from = &parser->notebook->phrase[k];
  free(to->part);
  to->part = cw_new(from->n_parts, sizeof *to->part);
  parser->full = parser->full || !to->part;
  for (size_t i = 0; i < from->n_parts && !parser->full; i++) {
    const CwNotePart *part = &from->part[i];
    CwNotePart *copy = &to->part[to->n_parts++];
    *copy = (CwNotePart){.line = parser->line,
                         .like = k,
                         .other_side = part->other_side != mirrored,
                         .delay = part->delay,
                         .after = part->after};
    copy->n_steps = cw_copy_steps(parser, part->step, part->n_steps, 0, 0, &copy->step);
    (void)(cw_copy_to(parser, part->role, &copy->role) && cw_copy_to(parser, part->leader, &copy->leader));
    parser->copied_bytes += sizeof *part;
  }
}

void cw_write_again(CwParser *parser, size_t k, bool mirrored, const CwLineStart *start)
{
  const CwNotePhrase *from = &parser->notebook->phrase[k];
  const CwNotePart *part = part_for(parser, from, start);
  CwDraft draft;
  cw_draft_begin(parser, &draft);
  CwNotePhrase *phrase = &draft.phrase;
  phrase->counts = start && start->counts ? start->counts : from->counts;
  phrase->counts_given = from->counts_given || (start && start->counts);
  phrase->like = k;
  phrase->other_side = mirrored;
  phrase->canon_apart = part ? 0 : from->canon_apart;
  const unsigned most = phrase->counts < from->counts ? phrase->counts : 0;
  phrase->n_steps = cw_copy_steps(parser, part ? part->step : from->step, part ? part->n_steps : from->n_steps, 0, most,
                                  &phrase->step);
  (void)cw_copy_to(parser, from->role, &phrase->role);
  if (!start || start->role == start->role_end) {
    cw_copy_parts(parser, k, mirrored, phrase);
  }
  if (start) {
    cw_draft_start(parser, &draft, start);
  }
  parser->copied_bytes += sizeof *phrase;
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
