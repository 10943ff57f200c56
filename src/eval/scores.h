// SPDX-License-Identifier: GPL-3.0-or-later
/// How well found beats, downbeats or ones fit true ones.
///
/// The measures are those of Davies, Degara and Plumbley, "Evaluation Methods for Musical Audio Beat Tracking
/// Algorithms" (Queen Mary University of London, C4DM-TR-09-06, 2009), with the constants and in the reading of mir_eval
/// 0.7 (Raffel et al. 2014), whose every odd case is kept: where the two differ, mir_eval is right. Tempo accuracy is
/// that of Gouyon, Klapuri, Dixon, Alonso, Tzanetakis, Uhle and Cano, "An Experimental Comparison of Audio Tempo
/// Induction Algorithms" (IEEE Transactions on Audio, Speech and Language Processing 14, 2006); mir_eval.tempo measures
/// something else (two tempos and their weights, 8 %).
///
/// All lists of times are in seconds and in order; equal times are allowed.
#ifndef CW_EVAL_SCORES_H
#define CW_EVAL_SCORES_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// Times of events; they belong to someone else.
typedef struct {
  const double *time_s;
  size_t n;
} CwTimes;

/// What is left of a list when all before `from_s` is taken off (mir_eval's trim_beats; 5 s is usual: trackers may need
/// that long to settle). Both lists of a comparison are to be trimmed alike.
CwTimes cw_eval_trim(CwTimes times, double from_s);

/// A found time hits a true one when it is within this of it.
#define CW_EVAL_WINDOW_S 0.07

/// What hit what: the most pairs of a true and a found time within the window, none in two pairs, taken in order.
typedef struct {
  size_t n_true, n_found, n_hit;
  double precision, recall, f; ///< 0 to 1; 0 when either list is empty
  double mean_offset_s;        ///< found less true over the pairs, so more than 0 is late; NaN without pairs
  double mean_error_s;         ///< the same without sign
  double worst_error_s;        ///< the greatest, without sign
} CwHits;

CwHits cw_eval_hits(CwTimes truth, CwTimes found, double window_s);

/// Cemgil's accuracy: errors through a Gaussian of 40 ms, 0 to 1. 0 when either list is empty.
/// @param[out] best The best over all metrical levels (as in CwContinuity).
/// @return That of the true beats themselves.
double cw_eval_cemgil(CwTimes truth, CwTimes found, double *best);

/// McKinney's P-score: correlation of pulse trains of 10 ms within a fifth of the median true interval, 0 to 1 and
/// seldom a little above. 0 when either list has fewer than two times, and when all true times fall in the same 10 ms,
/// where mir_eval ends with an error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_eval_p_score(CwTimes truth, CwTimes found, double *score);

/// Share of beats that are right, each within 17.5 % of the true interval in phase and in period. 0 to 1; all are 0
/// when either list has fewer than two times.
typedef struct {
  double cml_c; ///< the longest unbroken stretch, at the true metrical level
  double cml_t; ///< all stretches together
  double aml_c; ///< the same at the best of: the true beats, off-beats, twice as many, the odd ones, the even ones
  double aml_t;
} CwContinuity;

CwContinuity cw_eval_continuity(CwTimes truth, CwTimes found);

/// Tempo as 60 / the median interval.
typedef struct {
  double true_per_min, found_per_min; ///< NaN with fewer than two times, or when more than half of them are equal
  bool within;                        ///< accuracy 1: found within 4 % of true
  bool within_any;                    ///< accuracy 2: within 4 % of true, or of 2, 3, 1/2 or 1/3 of it
} CwTempoScore;

/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_eval_tempo(CwTimes truth, CwTimes found, CwTempoScore *score);

/// All of these.
typedef struct {
  CwHits hits;
  double cemgil, cemgil_best;
  double p_score;
  CwContinuity continuity;
  CwTempoScore tempo;
} CwBeatScores;

/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_eval_beats(CwTimes truth, CwTimes found, CwBeatScores *scores);

#endif
