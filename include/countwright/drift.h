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

/// Take the count line of recording a over to recording b.
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

/// Say in words what matters most: largest tempo differences first, then cuts and repeats.
/// @param map The time map, for cuts and repeats; may be NULL.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_summary(const CwDrift *drift, const CwTimeMap *map, CwMessages *messages);

/// Release and set to empty. NULL is accepted.
CW_API void cw_drift_free(CwDrift *drift);

CW_END

#endif
