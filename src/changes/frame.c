// SPDX-License-Identifier: GPL-3.0-or-later
/// What differs around the steps of two phrases, and headings.
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "changes/list.h"
#include "countwright/time_text.h"

/// Add a change of two texts, "" standing for nothing, where they differ.
static CwStatus list_texts(CwListing *listing, CwChange change, const char *before, const char *after)
{
  if (strcmp(before, after) == 0) {
    return CW_OK;
  }
  return cw_list_change(listing, change, *before ? before : NULL, *after ? after : NULL);
}

static void name_hold(const CwNotePhrase *phrase, char out[64])
{
  char time[24];
  out[0] = '\0';
  if (phrase->hold_after && phrase->hold_s > 0) {
    cw_format_time(phrase->hold_s, time);
    snprintf(out, 64, "a hold of %s", time);
  } else if (phrase->hold_after) {
    snprintf(out, 64, "a hold");
  }
}

static void name_number(double number, char out[64])
{
  out[0] = '\0';
  if (number > 0) {
    snprintf(out, 64, "%g", number);
    for (char *c = out; *c; c++) { // whatever the locale writes
      *c = *c == ',' ? '.' : *c;
    }
  }
}

static void name_metre(const CwNotePhrase *phrase, char out[64])
{
  out[0] = '\0';
  if (phrase->metre > 0) {
    snprintf(out, 64, phrase->metre_unit ? "%u/%u" : "%u", phrase->metre, phrase->metre_unit);
  }
}

/// Metre and beats per count hold on: only where they come to differ, or differ otherwise, is it told.
static CwStatus list_music(CwListing *listing, CwChange change, size_t old_phrase, size_t new_phrase)
{
  char text[4][64];
  char before[4][64] = {"", "", "", ""};
  name_metre(&listing->before->phrase[old_phrase], text[0]);
  name_metre(&listing->after->phrase[new_phrase], text[1]);
  name_number(listing->before->phrase[old_phrase].beats_per_count, text[2]);
  name_number(listing->after->phrase[new_phrase].beats_per_count, text[3]);
  if (old_phrase > 0 && new_phrase > 0) {
    name_metre(&listing->before->phrase[old_phrase - 1], before[0]);
    name_metre(&listing->after->phrase[new_phrase - 1], before[1]);
    name_number(listing->before->phrase[old_phrase - 1].beats_per_count, before[2]);
    name_number(listing->after->phrase[new_phrase - 1].beats_per_count, before[3]);
  }
  CwStatus status = CW_OK;
  for (size_t i = 0; i < 4 && status == CW_OK; i += 2) {
    change.kind = i == 0 ? CW_CHANGE_METRE : CW_CHANGE_BEATS;
    const bool so_before = strcmp(text[i], before[i]) == 0 && strcmp(text[i + 1], before[i + 1]) == 0;
    status = so_before ? CW_OK : list_texts(listing, change, text[i], text[i + 1]);
  }
  return status;
}

CwStatus cw_list_frame(CwListing *listing, size_t old_phrase, size_t new_phrase)
{
  const CwNotePhrase *old = &listing->before->phrase[old_phrase];
  const CwNotePhrase *new = &listing->after->phrase[new_phrase];
  CwChange change = {.old_phrase = old_phrase + 1, .new_phrase = new_phrase + 1, .n_phrases = 1};
  char before[64];
  char after[64];
  CwStatus status = list_music(listing, change, old_phrase, new_phrase);
  if (status == CW_OK) {
    change.kind = CW_CHANGE_SIDE;
    status = list_texts(listing, change, old->other_side ? "other side" : "", new->other_side ? "other side" : "");
  }
  if (status == CW_OK) {
    name_number(old->count_in, before);
    name_number(new->count_in, after);
    change.kind = CW_CHANGE_COUNT_IN;
    status = list_texts(listing, change, before, after);
  }
  if (status == CW_OK) {
    change.kind = CW_CHANGE_REMARK;
    status = list_texts(listing, change, old->remark ? old->remark : "", new->remark ? new->remark : "");
  }
  if (status == CW_OK) {
    name_hold(old, before);
    name_hold(new, after);
    change.kind = CW_CHANGE_HOLD;
    status = list_texts(listing, change, before, after);
  }
  return status;
}

/// The heading that begins with a phrase; NULL when none does.
static const char *heading_of(const CwNotebook *notebook, size_t phrase)
{
  const size_t section = notebook->phrase[phrase].section;
  const bool begins = section != CW_NONE && (phrase == 0 || notebook->phrase[phrase - 1].section != section);
  return begins ? notebook->section[section] : NULL;
}

static bool has_heading(const CwNotebook *notebook, const char *heading)
{
  bool has = false;
  for (size_t i = 0; i < notebook->n_sections; i++) {
    has = has || strcmp(notebook->section[i], heading) == 0;
  }
  return has;
}

/// The other version's heading that one stands for now: neither is in both, and they follow the same heading. CW_NONE
/// when there is none.
static size_t worded_otherwise(const CwNotebook *one, size_t section, const CwNotebook *other)
{
  const char *before = section > 0 ? one->section[section - 1] : "";
  for (size_t i = 0; i < other->n_sections; i++) {
    const char *other_before = i > 0 ? other->section[i - 1] : "";
    if (strcmp(before, other_before) == 0 && !has_heading(one, other->section[i])) {
      return i;
    }
  }
  return CW_NONE;
}

CwStatus cw_list_heading(CwListing *listing, size_t new_phrase)
{
  const char *after = heading_of(listing->after, new_phrase);
  const size_t old_phrase = listing->pairs.old_of[new_phrase];
  if (!after || has_heading(listing->before, after)) {
    return CW_OK;
  }
  const size_t was = worded_otherwise(listing->after, listing->after->phrase[new_phrase].section, listing->before);
  const CwChange change = {.kind = CW_CHANGE_HEADING,
                           .new_phrase = new_phrase + 1,
                           .old_phrase = old_phrase != CW_NONE ? old_phrase + 1 : 0,
                           .n_phrases = 1};
  return cw_list_change(listing, change, was != CW_NONE ? listing->before->section[was] : NULL, after);
}

CwStatus cw_list_gone_headings(CwListing *listing)
{
  CwStatus status = CW_OK;
  for (size_t i = 0; i < listing->before->n_phrases && status == CW_OK; i++) {
    const char *before = heading_of(listing->before, i);
    if (!before || has_heading(listing->after, before)) {
      continue;
    }
    const bool told = worded_otherwise(listing->before, listing->before->phrase[i].section, listing->after) != CW_NONE;
    const size_t new_phrase = listing->pairs.new_of[i];
    const CwChange change = {.kind = CW_CHANGE_HEADING,
                             .old_phrase = i + 1,
                             .new_phrase = new_phrase != CW_NONE ? new_phrase + 1 : 0,
                             .n_phrases = 1};
    status = told ? CW_OK : cw_list_change(listing, change, before, NULL);
  }
  return status;
}
