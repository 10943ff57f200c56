// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/changes.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "changes/list.h"

CwStatus cw_list_change(CwListing *listing, CwChange change, const char *before, const char *after)
{
  CwChanges *changes = listing->changes;
  if (!cw_grow(&changes->change, &listing->room, changes->n, sizeof *changes->change)) {
    return CW_ERR_NO_MEM;
  }
  change.before = before ? cw_copy_text(before, strlen(before)) : NULL;
  change.after = after ? cw_copy_text(after, strlen(after)) : NULL;
  if ((before && !change.before) || (after && !change.after)) {
    free(change.before);
    free(change.after);
    return CW_ERR_NO_MEM;
  }
  changes->change[changes->n++] = change;
  return CW_OK;
}

CwStatus cw_list_repeat(CwChange *change, size_t phrase)
{
  size_t *longer = cw_resize(change->repeat, change->n_repeats + 1, sizeof *longer);
  if (!longer) {
    return CW_ERR_NO_MEM;
  }
  change->repeat = longer;
  change->repeat[change->n_repeats++] = phrase;
  return CW_OK;
}

void cw_listing_free(CwListing *listing)
{
  cw_pairs_free(&listing->pairs);
  cw_wording_free(&listing->wording);
  free(listing->told);
}

/// The first phrase that this one repeats, step by step; itself when it repeats none.
static size_t root_of(const CwNotebook *notebook, size_t phrase)
{
  size_t root = phrase;
  while (notebook->phrase[root].like != CW_NONE &&
         cw_same_steps(&notebook->phrase[root], &notebook->phrase[notebook->phrase[root].like])) {
    root = notebook->phrase[root].like;
  }
  return root;
}

/// A change of what repeats take over.
static bool is_taken_over(CwChangeKind kind)
{
  return kind == CW_CHANGE_COUNTS || kind == CW_CHANGE_ROLE || kind >= CW_CHANGE_STEP_NEW;
}

/// Where both versions of a phrase repeat the same other one, tell it with that.
static CwStatus list_as_repeat(CwListing *listing, size_t root, size_t new_phrase)
{
  CwStatus status = CW_OK;
  for (size_t i = 0; i < listing->changes->n && status == CW_OK; i++) {
    CwChange *change = &listing->changes->change[i];
    if (change->new_phrase == root + 1 && is_taken_over(change->kind) && change->kind != CW_CHANGE_HEADING) {
      status = cw_list_repeat(change, new_phrase + 1);
    }
  }
  return status;
}

/// Whether what was listed from `from` on changes what is danced.
static bool is_danced_otherwise(const CwChanges *changes, size_t from)
{
  bool any = false;
  for (size_t i = from; i < changes->n; i++) {
    const CwChangeKind kind = changes->change[i].kind;
    any = any || (kind != CW_CHANGE_SPELLING && kind != CW_CHANGE_METRE && kind != CW_CHANGE_BEATS);
  }
  return any;
}

/// @param[in,out] same By new phrase: danced as before.
static CwStatus list_pair(CwListing *listing, size_t new_phrase, bool *same)
{
  const size_t old_phrase = listing->pairs.old_of[new_phrase];
  const size_t from = listing->changes->n;
  const size_t new_root = root_of(listing->after, new_phrase);
  const size_t old_root = root_of(listing->before, old_phrase);
  const bool follows = new_root != new_phrase && old_root != old_phrase && listing->pairs.new_of[old_root] == new_root;
  CwStatus status = cw_list_frame(listing, old_phrase, new_phrase);
  if (status == CW_OK && !follows) {
    status = cw_list_steps(listing, old_phrase, new_phrase);
  }
  if (status == CW_OK) {
    status = cw_list_parts(listing, old_phrase, new_phrase);
  }
  same[new_phrase] = !is_danced_otherwise(listing->changes, from) && (!follows || same[new_root]);
  return status == CW_OK && follows ? list_as_repeat(listing, new_root, new_phrase) : status;
}

static CwStatus list_all(CwListing *listing, bool *same)
{
  const CwPairs *pairs = &listing->pairs;
  size_t old_from = 0;
  CwStatus status = CW_OK;
  for (size_t k = 0; k < pairs->n_new && status == CW_OK; k++) {
    const bool paired = pairs->old_of[k] != CW_NONE;
    if (paired && !pairs->moved[k]) {
      status = cw_list_gone(listing, &old_from, pairs->old_of[k]);
    }
    if (status == CW_OK) {
      status = cw_list_heading(listing, k);
    }
    if (status == CW_OK) {
      status = cw_list_order(listing, k);
    }
    if (status == CW_OK && paired) {
      status = list_pair(listing, k, same);
    }
    listing->changes->was[k] = paired ? pairs->old_of[k] + 1 : 0;
    listing->changes->n_same += same[k];
  }
  if (status == CW_OK) {
    status = cw_list_gone(listing, &old_from, pairs->n_old);
  }
  return status == CW_OK ? cw_list_gone_headings(listing) : status;
}

CwStatus cw_changes_find(const CwNotebook *before, const CwNotebook *after, const CwGlossary *glossary,
                         CwChanges *changes)
{
  CwListing listing = {.before = before, .after = after, .changes = changes};
  CwGist *old_gist = NULL;
  CwGist *new_gist = NULL;
  *changes = (CwChanges){.n_old = before->n_phrases, .n_new = after->n_phrases};
  listing.wording.finder.glossary = glossary;
  bool *same = cw_new(after->n_phrases + 1, sizeof *same);
  listing.told = cw_new(after->n_phrases + 1, sizeof *listing.told);
  changes->was = cw_new(after->n_phrases + 1, sizeof *changes->was);
  CwStatus status = same && listing.told && changes->was ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = cw_gists(before, glossary, &old_gist);
  }
  if (status == CW_OK) {
    status = cw_gists(after, glossary, &new_gist);
  }
  if (status == CW_OK) {
    status = cw_pairs_make(old_gist, before->n_phrases, new_gist, after->n_phrases, &listing.pairs);
  }
  if (status == CW_OK) {
    status = list_all(&listing, same);
  }
  free(same);
  free(old_gist);
  free(new_gist);
  cw_listing_free(&listing);
  if (status != CW_OK) {
    cw_changes_free(changes);
  }
  return status;
}

void cw_changes_free(CwChanges *changes)
{
  if (!changes) {
    return;
  }
  for (size_t i = 0; i < changes->n; i++) {
    CwChange *change = &changes->change[i];
    free(change->old_on);
    free(change->new_on);
    free(change->before);
    free(change->after);
    free(change->repeat);
  }
  free(changes->change);
  free(changes->was);
  *changes = (CwChanges){0};
}
