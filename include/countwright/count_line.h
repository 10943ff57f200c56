// SPDX-License-Identifier: GPL-3.0-or-later
/// @file count_line.h
/// The count line: at which second of one recording each count falls. It is the centre of the library: analysis,
/// pins or a carry from another recording make one; everything printed, compared or played is made from one.
#ifndef COUNTWRIGHT_COUNT_LINE_H
#define COUNTWRIGHT_COUNT_LINE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/status.h"

CW_BEGIN

/// A phrase (an eight, or another number of counts) in one recording.
typedef struct {
  size_t first_count; ///< index into CwCountLine.count_s of its one
  unsigned counts;    ///< number of counts, at least 1
  double end_s;       ///< where its last count ends: the next phrase's one, or the start of a hold or of the end
  double confidence;  ///< 0 to 1: probability that its one is within 70 ms; 1 where pinned; negative when unknown
} CwPhrase;

/// The count line of one recording.
/// Counts ascend strictly. Phrases follow each other, cover every count once and none is empty; a gap between the end
/// of one and the one of the next is a hold. Plain data: read it freely, release it with cw_count_line_free().
typedef struct {
  double *count_s; ///< time of each count in seconds from the start of the recording; `n_counts` of them
  size_t n_counts;
  CwPhrase *phrase; ///< `n_phrases` of them
  size_t n_phrases;
  unsigned metre;         ///< beats in a bar (most common), 0 when unknown
  double beats_per_count; ///< beats that one count lasts; 0.5, 1, 2, 3 and so on
  double duration_s;      ///< length of the recording
} CwCountLine;

/// Set up an empty count line for a recording of `duration_s` seconds. Cannot fail.
CW_API void cw_count_line_init(CwCountLine *line, double duration_s);

/// Append a phrase.
/// @param count_s Times of its counts, `counts` of them, ascending, the first at or after the end of the line so far.
/// @param end_s Where its last count ends, after the last time.
/// @param confidence 0 to 1, negative when unknown.
/// @return CW_OK, CW_ERR_NO_MEM, or CW_ERR_BAD_ARG when times do not ascend; on error the line is unchanged.
CW_API CW_NODISCARD CwStatus cw_count_line_add(CwCountLine *line, const double *count_s, unsigned counts, double end_s,
                                               double confidence);

/// Time of a place in a phrase, by straight interpolation between counts.
/// @param phrase Index from 0.
/// @param count 1 is the phrase's one, 3.5 is "3&"; up to counts + 1, which is the phrase's end.
/// @return Seconds, or NaN when `phrase` or `count` is out of range.
CW_API double cw_count_line_time(const CwCountLine *line, size_t phrase, double count);

/// Which count sounds at a time.
/// @param[out] phrase Index of the phrase from 0.
/// @param[out] count 1 up to, not including, counts + 1.
/// @return false when the time lies before the first one, in a hold or after the end.
CW_API bool cw_count_line_find(const CwCountLine *line, double time_s, size_t *phrase, double *count);

/// Start (its one) of a phrase in seconds; NaN when out of range.
CW_API double cw_count_line_start(const CwCountLine *line, size_t phrase);

/// Mean tempo of a phrase in counts per minute: 60 counts / (end - start); NaN when out of range.
CW_API double cw_count_line_tempo(const CwCountLine *line, size_t phrase);

/// Copy `from` to `to` (which need not be set up). @return CW_OK or CW_ERR_NO_MEM (`to` is then empty).
CW_API CW_NODISCARD CwStatus cw_count_line_copy(const CwCountLine *from, CwCountLine *to);

/// Release what a count line holds and set it to empty. NULL is accepted.
CW_API void cw_count_line_free(CwCountLine *line);

CW_END

#endif
