// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/names.h"

/// Whether two brackets have a role in common, such as "Girls, Boys" and "boys".
static bool share_role(CwParser *parser, const char *a, const char *b)
{
  CwNames names = {0};
  const char *name = NULL;
  bool shared = false;
  for (size_t length = 0; (length = cw_name_next(&a, &name)) > 0 && !parser->full;) {
    parser->full = !cw_names_put(&names, name, length, 0);
  }
  for (size_t length = 0; (length = cw_name_next(&b, &name)) > 0 && !shared;) {
    shared = cw_names_find(&names, name, length) != CW_NO_NAME;
  }
  cw_names_free(&names);
  return shared;
}

/// Whether one of the roles in brackets dances in a phrase already.
static bool has_role(CwParser *parser, const CwNotePhrase *phrase, const char *role)
{
  bool has = phrase->role && share_role(parser, phrase->role, role);
  for (size_t i = 0; i < phrase->n_parts && !has; i++) {
    has = phrase->part[i].role && share_role(parser, phrase->part[i].role, role);
  }
  return has;
}

/// The next role right below another is danced at the same time, unless the line says when it begins.
static bool is_next_role(CwParser *parser, const CwLineStart *start)
{
  const CwGroup *group = &parser->group;
  if (start->then || start->n_pins > 0 || start->role == start->role_end || !group->roles ||
      group->line + 1 != parser->line) {
    return false;
  }
  char *role = cw_line_text_copy(&parser->text, start->role, start->role_end);
  parser->full = parser->full || !role;
  const bool next = role && !has_role(parser, &parser->notebook->phrase[group->first], role);
  free(role);
  return next;
}

bool cw_part_begins(CwParser *parser, const CwLineStart *start)
{
  const CwGroup *group = &parser->group;
  const bool any = group->end > group->first && group->end == parser->notebook->n_phrases;
  if (start->meanwhile && !any) {
    cw_diagnose(parser, start->meanwhile_at, "expected a phrase above that is danced at the same time, found none");
  }
  if (!any || !(start->meanwhile || is_next_role(parser, start))) {
    return false;
  }
  if (parser->notebook->phrase[group->first].n_parts >= CW_PARTS_MOST) {
    cw_diagnose(parser, parser->begin, "expected at most %u roles at the same time: read as a phrase of its own",
                CW_PARTS_MOST + 1);
    return false;
  }
  parser->within = parser->notebook->phrase[group->first].counts;
  parser->meanwhile = start->meanwhile;
  return true;
}

CwNotePart *cw_part_add(CwParser *parser, CwNotePhrase *phrase)
{
  CwNotePart *part = cw_resize(phrase->part, phrase->n_parts + 1, sizeof *part);
  if (!part) {
    parser->full = true;
    return NULL;
  }
  phrase->part = part;
  part += phrase->n_parts++;
  memset(part, 0, sizeof *part);
  part->line = parser->line;
  part->like = CW_NONE;
  return part;
}

/// Pins and holds are times of the music: they are the phrase's, whoever wrote them.
static void join_times(CwParser *parser, const CwNotePhrase *from, CwNotePhrase *to)
{
  if (from->n_pins > 0) {
    CwPin *pin = cw_resize(to->pin, to->n_pins + from->n_pins, sizeof *pin);
    parser->full = parser->full || !pin;
    if (pin) {
      memcpy(pin + to->n_pins, from->pin, from->n_pins * sizeof *pin);
      to->pin = pin;
      to->n_pins += from->n_pins;
    }
  }
  if (from->hold_after) {
    to->hold_after = true;
    to->hold_s = from->hold_s > 0 ? from->hold_s : to->hold_s;
    to->hold_until_s = isnan(from->hold_until_s) ? to->hold_until_s : from->hold_until_s;
  }
}

/// Move a phrase into another as a part, with what is danced beside it.
static void fold(CwParser *parser, CwNotePhrase *from, size_t like, CwNotePhrase *to)
{
  CwNotePart *part = cw_part_add(parser, to);
  if (part) {
    *part = (CwNotePart){.role = from->role,
                         .line = from->line,
                         .step = from->step,
                         .n_steps = from->n_steps,
                         .like = like,
                         .other_side = from->other_side,
                         .remark = from->remark};
    from->role = NULL;
    from->step = NULL;
    from->n_steps = 0;
    from->remark = NULL;
    for (size_t i = 0; i < from->n_parts; i++) { // a canon beside it
      CwNotePart *beside = cw_part_add(parser, to);
      if (beside) {
        *beside = from->part[i];
        memset(&from->part[i], 0, sizeof from->part[i]);
      }
    }
    join_times(parser, from, to);
    parser->count_in = from->count_in ? from->count_in : parser->count_in; // it waits on
  }
  cw_note_phrase_free(from);
}

/// Where a phrase is after those from `first` on were folded into the group.
static size_t moved(const CwGroup *group, size_t first, size_t k)
{
  const size_t room = group->end - group->first;
  if (k == CW_NONE || k < first) {
    return k;
  }
  return k - first < room ? group->first + (k - first) : k - room;
}

bool cw_part_fold(CwParser *parser, const CwLineStart *start, size_t first)
{
  CwNotebook *notebook = parser->notebook;
  const CwGroup group = parser->group;
  const unsigned counts = notebook->phrase[group.first].counts;
  if (parser->full || notebook->n_phrases == first) {
    return true;
  }
  if (parser->said_counts > 0 && parser->said_counts != counts) {
    if (!start->meanwhile) {
      return false;
    }
    cw_diagnose(parser, parser->begin, "expected %u counts as in the phrase above, found '%u'", counts,
                parser->said_counts);
  }
  size_t end = first;
  for (size_t k = first; k < notebook->n_phrases; k++) {
    CwNotePhrase *phrase = &notebook->phrase[k];
    const size_t like = moved(&group, first, phrase->like);
    if (group.first + (k - first) < group.end) {
      fold(parser, phrase, like, &notebook->phrase[group.first + (k - first)]);
    } else {
      phrase->like = like;
      notebook->phrase[end++] = *phrase;
    }
  }
  notebook->n_phrases = end;
  parser->group.end = end;
  parser->group.line = parser->line;
  return true;
}

void cw_group_begin(CwParser *parser, const CwLineStart *start, size_t first)
{
  const size_t end = parser->notebook->n_phrases;
  parser->group = (CwGroup){first, end, parser->line, start->role < start->role_end};
}
