// SPDX-License-Identifier: GPL-3.0-or-later
/// What other roles do in a phrase.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "changes/list.h"

/// The part of a role; NULL when it has none. A part without a role is known by its place.
static const CwNotePart *part_of(const CwNotePhrase *phrase, const CwNotePart *wanted, size_t place)
{
  for (size_t i = 0; i < phrase->n_parts; i++) {
    const char *role = phrase->part[i].role;
    const bool same = role && wanted->role ? strcmp(role, wanted->role) == 0 : !role && !wanted->role && i == place;
    if (same) {
      return &phrase->part[i];
    }
  }
  return NULL;
}

/// A part in a line: "Girls: 1-4 run". @return Release with free(); NULL when memory runs out.
static char *name_part(const CwNotePart *part)
{
  char *steps = cw_steps_in_a_line(part->step, part->n_steps);
  const char *role = part->role ? part->role : "others";
  const size_t size = steps ? strlen(steps) + strlen(role) + 60 : 0;
  char *name = steps ? cw_new(size, 1) : NULL;
  if (name && part->delay > 0) {
    snprintf(name, size, "%s, %u counts later: %s", role, part->delay, steps);
  } else if (name) {
    snprintf(name, size, "%s%s: %s", role, part->other_side ? ", other side" : "", steps);
  }
  free(steps);
  return name;
}

/// @param before NULL when new. @param after NULL when gone.
static CwStatus list_part(CwListing *listing, CwChange change, const CwNotePart *before, const CwNotePart *after)
{
  char *was = before ? name_part(before) : NULL;
  char *is = after ? name_part(after) : NULL;
  CwStatus status = (before && !was) || (after && !is) ? CW_ERR_NO_MEM : CW_OK;
  if (status == CW_OK && !(was && is && strcmp(was, is) == 0)) {
    status = cw_list_change(listing, change, was, is);
  }
  free(was);
  free(is);
  return status;
}

CwStatus cw_list_parts(CwListing *listing, size_t old_phrase, size_t new_phrase)
{
  const CwNotePhrase *old = &listing->before->phrase[old_phrase];
  const CwNotePhrase *new = &listing->after->phrase[new_phrase];
  const CwChange change = {
      .kind = CW_CHANGE_PART, .old_phrase = old_phrase + 1, .new_phrase = new_phrase + 1, .n_phrases = 1};
  CwStatus status = CW_OK;
  for (size_t i = 0; i < old->n_parts && status == CW_OK; i++) {
    status = part_of(new, &old->part[i], i) ? CW_OK : list_part(listing, change, &old->part[i], NULL);
  }
  for (size_t i = 0; i < new->n_parts &&status == CW_OK; i++) {
    status = list_part(listing, change, part_of(old, &new->part[i], i), &new->part[i]);
  }
  return status;
}
