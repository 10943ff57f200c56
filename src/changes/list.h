// SPDX-License-Identifier: GPL-3.0-or-later
/// The list of changes while it is made.
#ifndef CW_CHANGES_LIST_H
#define CW_CHANGES_LIST_H

#include <stdbool.h>

#include "changes/pair.h"
#include "changes/wording.h"
#include "countwright/changes.h"

/// Zero but for what is compared; release its own parts with cw_listing_free().
typedef struct {
  const CwNotebook *before;
  const CwNotebook *after;
  CwChanges *changes;
  size_t room;
  CwPairs pairs;
  CwWording wording;
  bool *told; ///< by new phrase: that it is new or moved was told
} CwListing;

/// Add a change. The texts are copied; NULL stays NULL. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_list_change(CwListing *listing, CwChange change, const char *before, const char *after);

/// Add a number to a change's `repeat`. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_list_repeat(CwChange *change, size_t phrase);

/// List what differs within a pair of phrases: counts, role and steps. Indices from 0.
CW_NODISCARD CwStatus cw_list_steps(CwListing *listing, size_t old_phrase, size_t new_phrase);

/// Whether two phrases have the same steps, on the same counts, in the same words.
bool cw_same_steps(const CwNotePhrase *left, const CwNotePhrase *right);

/// List what differs around a pair: side, count-in, hold, remark, metre and beats per count from here on.
CW_NODISCARD CwStatus cw_list_frame(CwListing *listing, size_t old_phrase, size_t new_phrase);

/// List the new phrases from `new_phrase` on, and how they moved, where they were not told yet.
CW_NODISCARD CwStatus cw_list_order(CwListing *listing, size_t new_phrase);

/// List the old phrases before `old_to` that are gone, from `*old_from` on, which is moved on.
CW_NODISCARD CwStatus cw_list_gone(CwListing *listing, size_t *old_from, size_t old_to);

/// List the heading that begins with a new phrase, where it is new or worded otherwise.
CW_NODISCARD CwStatus cw_list_heading(CwListing *listing, size_t new_phrase);

/// List the old headings that are gone.
CW_NODISCARD CwStatus cw_list_gone_headings(CwListing *listing);

/// Steps in a line. @return Release with free(); NULL when memory runs out.
char *cw_steps_in_a_line(const CwStep *step, size_t n_steps);

/// List what other roles do otherwise in a pair of phrases.
CW_NODISCARD CwStatus cw_list_parts(CwListing *listing, size_t old_phrase, size_t new_phrase);

void cw_listing_free(CwListing *listing);

#endif
