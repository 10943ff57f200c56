// SPDX-License-Identifier: GPL-3.0-or-later
/// @file drift.h
/// Drift: how tempo differs, phrase by phrase, between two recordings of the same music, and how many seconds one is
/// ahead.
#ifndef COUNTWRIGHT_DRIFT_H
#define COUNTWRIGHT_DRIFT_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/align.h"
#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// A tempo difference below this, in percent, is shown as "the same": about the just noticeable difference of tempo
/// (Friberg and Sundberg 1995).
#define CW_JUST_NOTICEABLE_PERCENT 2.5

/// One phrase in both recordings.
typedef struct {
  unsigned number; ///< phrase number, from 1
  unsigned counts;
  bool present; ///< false where b lacks the phrase; then what concerns b is NaN
  double a_start_s, a_end_s;
  double b_start_s, b_end_s;
  /// Before a hold and at the end of the music, where the last count has no end that is heard, from the one to the last
  /// count; else over the whole phrase.
  double a_counts_per_min;
  double b_counts_per_min;
  double percent; ///< 100 (b tempo / a tempo - 1); positive: b is faster
  /// How much sooner b reaches the phrase's one than a, both counted from the first phrase that both have.
  double ahead_s;
} CwDriftRow;

/// Drift of b against a. Release with cw_drift_free().
typedef struct {
  CwDriftRow *row;
  size_t n;
} CwDrift;

/// One recording beside the first.
typedef struct {
  const char *name;     ///< shown for it; NULL or empty: "the other recording"
  CwDrift drift;        ///< against the first
  const CwTimeMap *map; ///< from the first to this one, for what differs beside tempo; may be NULL
} CwDriftOther;

/// Recordings against the first of them. Strings and arrays belong to whoever made them.
typedef struct {
  const char *name;           ///< of the first; NULL or empty: "the first recording"
  const CwDriftOther *other;  ///< `n` of them, all with the same rows
  size_t n;                   ///< at least 1
  const char *const *section; ///< for each row the heading that it stands under, or NULL; rows of one section share the
                              ///< pointer. NULL: no headings
  const CwMessages *summary;  ///< in words, from cw_drift_summary(); may be NULL
} CwDriftTable;

/// Tempo over several recordings, in counts a minute; NaN where none has the music.
typedef struct {
  size_t n; ///< recordings that have it
  double slowest, median, fastest;
} CwSeason;

/// Take the count line of recording a over to recording b.
/// A phrase's confidence becomes that times how sure its place in b is, where that is known.
/// Phrases that b lacks are left out; `kept`, when not NULL, gets for each phrase of `a` its index in `b`, or SIZE_MAX.
/// @param kept Room for a->n_phrases indices, or NULL.
/// @param[out] b The carried count line, release with cw_count_line_free().
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_carry(const CwCountLine *a, const CwTimeMap *map, CwCountLine *b, size_t *kept);

/// Drift through a time map: b's phrases are a's, carried.
/// @return CW_OK or CW_ERR_NO_MEM; on error `drift` is empty.
CW_API CW_NODISCARD CwStatus cw_drift_by_map(const CwCountLine *a, const CwTimeMap *map, CwDrift *drift);

/// Drift between two count lines made independently: phrase k of one is phrase k of the other; phrases beyond the
/// shorter line are not present.
/// @return CW_OK or CW_ERR_NO_MEM; on error `drift` is empty.
CW_API CW_NODISCARD CwStatus cw_drift_by_lines(const CwCountLine *a, const CwCountLine *b, CwDrift *drift);

/// Leave all rows out but `first` to `last` (indices from 0, last at least first, both under drift->n); being ahead then
/// counts from the first of them. Cannot fail.
CW_API void cw_drift_keep(CwDrift *drift, size_t first, size_t last);

/// All rows that both recordings have, as one: from the first one to the last end, tempo over the counts alone, without
/// the holds between. `ahead_s` is how much sooner b comes to the end. With no such row it is not present.
CW_API CwDriftRow cw_drift_whole(const CwDrift *drift);

/// How fast each row is played over all recordings of a table, the first with them.
/// @param[out] season Room for as many as there are rows. @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_season(const CwDriftTable *table, CwSeason *season);

/// The same for the rows as a whole; a recording that leaves some out counts by how it compares over the others.
CW_API CW_NODISCARD CwStatus cw_drift_season_whole(const CwDriftTable *table, CwSeason *season);

/// Say in words what matters most: largest tempo differences first, then cuts, repeats, restarts and pauses, then what
/// sounds otherwise (slow attacks, tuning).
/// @param[out] messages Appended to. @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_summary(const CwDriftTable *table, CwMessages *messages);

/// Only what differs beside tempo: cuts, repeats, restarts, pauses. @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_structure(const CwDriftTable *table, CwMessages *messages);

/// Release and set to empty. NULL is accepted.
CW_API void cw_drift_free(CwDrift *drift);

CW_END

#endif
