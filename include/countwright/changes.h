// SPDX-License-Identifier: GPL-3.0-or-later
/// @file changes.h
/// What differs between two versions of notes, phrase by phrase, for someone who learned the old one. Phrases are paired
/// by how alike their steps are, also where they have moved. Pins are times, not steps, and are passed over.
#ifndef COUNTWRIGHT_CHANGES_H
#define COUNTWRIGHT_CHANGES_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/glossary.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// What changed.
typedef enum {
  CW_CHANGE_PHRASE_NEW,    ///< phrases that the old notes lack
  CW_CHANGE_PHRASE_GONE,   ///< phrases that the new notes lack
  CW_CHANGE_PHRASE_MOVED,  ///< phrases that come elsewhere now;
  CW_CHANGE_PHRASE_PLACES, ///< two phrases, or two groups as long, that have changed places
  CW_CHANGE_COUNTS,        ///< number of counts of a phrase
  CW_CHANGE_SIDE,          ///< a phrase is danced on the other side, or no longer
  CW_CHANGE_ROLE,          ///< whose phrase it is
  CW_CHANGE_METRE,         ///< metre from a phrase on
  CW_CHANGE_BEATS,         ///< beats per count from a phrase on
  CW_CHANGE_COUNT_IN,      ///< counts counted in before a phrase
  CW_CHANGE_HOLD,          ///< the hold after a phrase
  CW_CHANGE_REMARK,        ///< what is no step: entrances and the like
  CW_CHANGE_PART,          ///< what another role does in a phrase
  CW_CHANGE_STEP_NEW,      ///< a step that the old phrase lacks
  CW_CHANGE_STEP_GONE,     ///< a step that the new phrase lacks
  CW_CHANGE_STEP,          ///< other words on a count
  CW_CHANGE_PLACE,         ///< the same step at another place of the stage
  CW_CHANGE_COUNT,         ///< the same step on another count
  CW_CHANGE_SPELLING,      ///< the same step, only spelt otherwise
  CW_CHANGE_HEADING        ///< a heading that is new, gone or worded otherwise
} CwChangeKind;

/// One change. Phrases are numbered from 1, each in its own version; 0 where there is none.
typedef struct {
  CwChangeKind kind;
  size_t old_phrase;
  size_t new_phrase;
  size_t n_phrases; ///< of a group; 1 else
  double old_count; ///< first count of a step, as CwStep has it; 0 where there is none
  double new_count;
  char *old_on; ///< all counts of the step as marks, such as "3&4"; NULL where there is no step
  char *new_on;
  char *before;   ///< what the old notes say; NULL where there is nothing
  char *after;    ///< what the new notes say; NULL where there is nothing
  size_t *repeat; ///< new numbers of phrases that repeat this one and changed in the same way; when two have changed
                  ///< places, the other of the two
  size_t n_repeats;
} CwChange;

/// All changes, in the order of the new notes; what is gone stands where it was. Release with cw_changes_free().
typedef struct {
  CwChange *change;
  size_t n;
  size_t *was; ///< by phrase of the new notes, from 0: its number in the old ones, 0 when new
  size_t n_old;
  size_t n_new;
  size_t n_same; ///< phrases that are danced as they were, wherever they now come
  size_t n_added;
  size_t n_removed;
  size_t n_moved;
} CwChanges;

/// Compare two versions of notes.
/// @param glossary Spellings of one term are told apart from other steps by it; NULL for none.
/// @param[out] changes Release with cw_changes_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_changes_find(const CwNotebook *before, const CwNotebook *after,
                                             const CwGlossary *glossary, CwChanges *changes);

/// Say one change in a sentence, such as "in phrase 3, on 5: 'turn' is now 'jump'". A number is that of the new notes;
/// "(was 5)" is that of the old ones where it is another.
/// @param[out] text Release with free(); NULL on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_change_say(const CwChanges *changes, size_t index, char **text);

/// Say all of it, the sum first, then each change, then how phrases are numbered now.
/// @param messages Appended to.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_changes_explain(const CwChanges *changes, CwMessages *messages);

/// A kind's name for machines, such as "phrase-new".
CW_API const char *cw_change_name(CwChangeKind kind);

/// Release and set to empty. NULL is accepted.
CW_API void cw_changes_free(CwChanges *changes);

CW_END

#endif
