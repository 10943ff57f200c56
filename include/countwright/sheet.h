// SPDX-License-Identifier: GPL-3.0-or-later
/// @file sheet.h
/// The count sheet as data: what every printed form shows.
#ifndef COUNTWRIGHT_SHEET_H
#define COUNTWRIGHT_SHEET_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/cast.h"
#include "countwright/count_line.h"
#include "countwright/drift.h"
#include "countwright/evidence.h"
#include "countwright/language.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// Below this confidence a phrase is marked "check by ear".
#define CW_SURE_ENOUGH 0.6

/// What another role does in a phrase.
typedef struct {
  char *role;   ///< NULL when the notes name none
  CwStep *step; ///< `n_steps` of them; counts as in notebook.h
  size_t n_steps;
  unsigned like;   ///< number of the phrase whose steps these are, 0 when none
  bool other_side; ///< than they are written; the words here are mirrored
  unsigned delay;  ///< canon: counts after the phrase's one at which it begins; 0 without
  unsigned after;  ///< canon: counts after the role it follows
  char *leader;    ///< canon: that role; NULL when it has no name
  char *remark;    ///< NULL when none
} CwSheetPart;

/// A phrase in another recording of the music.
typedef struct {
  bool present; ///< false where the other recording lacks it
  double start_s;
  double counts_per_min;
  double percent; ///< 100 (other tempo / this tempo - 1); positive: the other will feel faster
  double ahead_s; ///< how much sooner it comes there, both counted from the first phrase that both have
} CwSheetOther;

/// One phrase of the sheet.
typedef struct {
  unsigned number; ///< from 1
  unsigned counts;
  char *section; ///< heading that begins with this phrase, or NULL
  bool timed;    ///< false where the music has no place for it; times and tempo are then NaN
  double start_s;
  double end_s;
  double counts_per_min;
  double
      change_percent; ///< of tempo, against the phrase before; NaN for the first, where either has no tempo, and where a count changes
  double confidence; ///< 0 to 1; negative when unknown
  bool check_by_ear; ///< confidence is known and under CW_SURE_ENOUGH
  bool pinned;       ///< its one is pinned
  CwStep *step;      ///< `n_steps` of them; counts as in notebook.h
  size_t n_steps;
  unsigned like; ///< number of the phrase that it repeats, 0 when none
  bool other_side;
  double hold_s;          ///< length of the hold after it; 0 when none
  unsigned count_in;      ///< counts counted in before it
  unsigned metre;         ///< beats in a bar from this phrase on; 0 where it does not change
  unsigned metre_unit;    ///< 4 in "3/4"; 0 when not given
  double beats_per_count; ///< from this phrase on; 0 where it does not change
  char *remark;           ///< NULL when none
  char *role;             ///< whose phrase it is; NULL when everybody's
  CwSheetPart *part;      ///< what others do at the same time; `n_parts` of them
  size_t n_parts;
  unsigned canon_apart; ///< danced in canon, so many counts apart; 0 when not
  bool others;          ///< on a role's own sheet: only others dance; there are no steps then
  bool off;             ///< and that role is off stage
  CwSheetOther other;   ///< where the sheet is held against another recording
} CwSheetRow;

/// A count sheet. Release with cw_sheet_free().
typedef struct {
  char *piece; ///< strings of the head are NULL when unknown
  char *dance;
  char *role;
  char *recording;
  char *language;      ///< of the notes, as BCP 47 or a word from the head; NULL when unknown
  CwLanguage labels;   ///< what the labels are in: the notes' language where that is one of them, else English
  unsigned metre;      ///< beats in a bar, 0 when unknown
  unsigned metre_unit; ///< 4 in 3/4; 0 when unknown
  double beats_per_count;
  double duration_s;
  bool
      repeats_written; ///< print the steps of repeats again, not only which phrase they are like; set it after building
  char *other;         ///< name of the recording that the sheet is held against; NULL for none
  unsigned whole;      ///< phrases of the whole piece, where the rows are only some of them; else 0
  bool mirrored;       ///< for the cast on the other side; cw_sheet_build() leaves it false, set it after that
  double first_one_s;  ///< NaN when nothing is timed
  double slowest_per_min; ///< counts a minute of the slowest phrase; NaN when nothing is timed
  double fastest_per_min;
  CwSheetRow *row;
  size_t n_rows;
  CwCast cast;         ///< who is on stage when
  bool cast_shown;     ///< and that is printed below the phrases
  CwMessages message;  ///< what does not add up
  CwEvidence evidence; ///< what the notes changed; cw_sheet_build() leaves it unknown, set it after that
} CwSheet;

/// Put notes and count line together.
/// @param notebook NULL for a bare sheet of the count line alone.
/// @param line NULL for a sheet of notes with no recording; phrase k of it is phrase k of the notes.
/// @param recording File name to show; NULL for the notebook's.
/// @param messages Copied into the sheet; NULL for none.
/// @param[out] sheet Release with cw_sheet_free(); empty on error.
/// @return CW_OK, CW_ERR_BAD_ARG (neither notes nor line) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_build(const CwNotebook *notebook, const CwCountLine *line, const char *recording,
                                            const CwMessages *messages, CwSheet *sheet);

/// The same for a recording that may lack phrases of the notes, or have them in another order.
/// @param kept For each phrase of the notes its index in `line`, SIZE_MAX where the recording lacks it: then it is there
/// without times.
CW_API CW_NODISCARD CwStatus cw_sheet_build_carried(const CwNotebook *notebook, const CwCountLine *line,
                                                    const size_t *kept, const char *recording,
                                                    const CwMessages *messages, CwSheet *sheet);

/// Make it one role's own sheet: her steps are the phrases' own, what others do at the same time is left out, and phrases
/// in which only others dance have no steps. Her times on and off stage are printed below.
/// @param[out] found False when the notes name no such role; the sheet is then as it was.
/// @return CW_OK or CW_ERR_NO_MEM (the sheet can only be released then).
CW_API CW_NODISCARD CwStatus cw_sheet_keep_role(CwSheet *sheet, const char *role, bool *found);

/// Keep only rows `first` to `last` (indices from 0, last at least first, both under sheet->n_rows): a heading that goes on
/// stands over the first of them, and the tempo and the first one are theirs. Cannot fail.
CW_API void cw_sheet_keep_phrases(CwSheet *sheet, size_t first, size_t last);

/// Hold a sheet against another recording: each row gets the drift row of its number.
/// @param name Of the other recording, to show.
/// @return CW_OK or CW_ERR_NO_MEM (the sheet is then as it was).
CW_API CW_NODISCARD CwStatus cw_sheet_compare(CwSheet *sheet, const CwDrift *drift, const char *name);

/// Release and set to empty. NULL is accepted.
CW_API void cw_sheet_free(CwSheet *sheet);

CW_END

#endif
