// SPDX-License-Identifier: GPL-3.0-or-later
/// @file cast.h
/// Who is on stage when: each role's times on and off, with the waits between, and when to begin to be warm again.
///
/// When to move again before an entrance is common practice and no more; no source is claimed for it. Bodies differ:
/// teachers, physiotherapists and the rules of the house come first.
#ifndef COUNTWRIGHT_CAST_H
#define COUNTWRIGHT_CAST_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/notebook.h"
#include "countwright/status.h"

CW_BEGIN

/// Seconds before an entrance at which a role is reminded to be warm again, unless asked otherwise.
#define CW_WARM_LEAD_S 300.0

/// A stretch on stage, or off it.
typedef struct {
  bool on;
  unsigned number; ///< phrase in which it begins, from 1
  double count;    ///< and the count of it; the phrase's counts + 1 is right after its last
  unsigned until_number;
  double until_count;
  unsigned in_counts; ///< counts of the phrase in which it begins
  unsigned until_in_counts;
  double counts;  ///< its length in counts, holds left out
  double start_s; ///< seconds in the recording; NaN without one, or where it lacks the phrase
  double end_s;
  bool again;     ///< off between two stretches on: a wait, which ends with an entrance
  double warm_s;  ///< of a wait: when to begin to be warm again; NaN when it has no times or is shorter than the lead
  bool stay_warm; ///< of a wait: it is shorter than the lead
} CwStay;

/// One role.
typedef struct {
  char *role;   ///< NULL: everybody, in notes that name no role
  CwStay *stay; ///< on and off in turn, from the beginning to the end; `n_stays` of them
  size_t n_stays;
} CwCastRole;

/// The cast. Release with cw_cast_free().
typedef struct {
  CwCastRole *role; ///< in the order of "cast:" in the head, then as the notes name them
  size_t n_roles;
  double lead_s; ///< of the reminders
} CwCast;

/// Find out who is on stage when, from the entrances and exits of notes. Who never enters is on from the beginning; who
/// dances in a phrase of her own, though she has gone, is on again from its one.
/// @param line Where the notes are in a recording; NULL without one.
/// @param kept As for cw_sheet_build_carried(); NULL: phrase k of the line is phrase k of the notes.
/// @param[out] cast Empty on error, and when the notes name no role and nobody enters or goes. Its reminders are
/// CW_WARM_LEAD_S before an entrance.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_cast_find(const CwNotebook *notebook, const CwCountLine *line, const size_t *kept,
                                          CwCast *cast);

/// Put the reminders `lead_s` seconds (from 0) before each entrance.
CW_API void cw_cast_remind(CwCast *cast, double lead_s);

/// Keep one role alone. @return false when the cast has none of that name (it is then as it was).
CW_API bool cw_cast_keep(CwCast *cast, const char *role);

/// Whether one of the roles that brackets name, such as "Girls & Boys", is `role`. Capitals do not matter; "all" and
/// "everybody" are every role.
CW_API bool cw_role_names(const char *brackets, const char *role);

/// Release and set to empty. NULL is accepted.
CW_API void cw_cast_free(CwCast *cast);

CW_END

#endif
