// SPDX-License-Identifier: GPL-3.0-or-later
/// @file evidence.h
/// How the notes, taken as evidence, changed what the music alone would have been counted as.
#ifndef COUNTWRIGHT_EVIDENCE_H
#define COUNTWRIGHT_EVIDENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// A count is moved when it lies further than this from where the music alone had it.
#define CW_MOVED_S 0.07

/// How music is counted. Tempos are medians over phrases; numbers are 0 where unknown.
typedef struct {
  unsigned metre; ///< beats in a bar
  double beats_per_count;
  double counts_per_min;
  double beats_per_min;
} CwLevel;

/// What the notes changed. Plain data; all zero where no notes were lined up.
typedef struct {
  bool known;           ///< notes were lined up; else all else is 0
  bool level_given;     ///< the notes or the caller gave the beats per count; else they were chosen
  CwLevel level;        ///< as lined up
  bool alone_known;     ///< the music was counted alone, too; else `alone` and `n_moved` are 0
  CwLevel alone;        ///< as the music alone was counted
  size_t n_ones;        ///< phrases lined up
  size_t n_moved;       ///< of them, those whose one lies over CW_MOVED_S from every one of the music alone
  double tempo_low_bpm; ///< beats a minute that the notes' tempo means for the first phrase; 0 when they give none
  double tempo_high_bpm;
  bool tempo_used;         ///< it was near enough to what is found to help; else it was left aside
  size_t n_repeats;        ///< repeated phrases ("same as", "repeat", "x2") whose music was compared
  size_t n_alike;          ///< of them, those whose music is alike
  size_t n_moved_by_alike; ///< counts moved over CW_MOVED_S because repeated music should be alike
} CwEvidence;

/// Say in short lines what the notes changed: "the notes settle the tempo: 62 beats a minute; the music alone was found at
/// 124", "bars of 3 where the music alone gave 4", "23 of 40 ones moved by more than 70 ms".
/// @param messages Appended to.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_evidence_explain(const CwEvidence *evidence, CwMessages *messages);

CW_END

#endif
