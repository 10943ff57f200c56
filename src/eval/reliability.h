// SPDX-License-Identifier: GPL-3.0-or-later
/// Whether phrases are right as often as their confidence says.
#ifndef CW_EVAL_RELIABILITY_H
#define CW_EVAL_RELIABILITY_H

#include <stdbool.h>
#include <stddef.h>

#include "eval/list.h"

enum { CW_N_BINS = 10 };

/// Phrases shown with much the same confidence.
typedef struct {
  size_t n;
  size_t n_right;
  double confidence; ///< sum over them
} CwBin;

/// Zeroed, it holds no phrase.
typedef struct {
  CwBin bin[CW_N_BINS]; ///< confidence from 0 to under 0.1, ... from 0.9 to 1
  CwBin all;
  size_t n_unknown; ///< phrases that state no confidence
} CwReliability;

/// Take a phrase in. @param confidence 0 to 1; NaN when it states none.
void cw_eval_reliability_add(CwReliability *reliability, double confidence, bool right);

/// Expected calibration error: how far the share of right phrases is from the mean confidence in a bin, over the bins by
/// their phrases. 0 to 1; NaN without phrases.
double cw_eval_calibration_error(const CwReliability *reliability);

/// How phrases are judged.
typedef enum {
  /// Music alone: where phrases begin is no matter of right and wrong, but that they begin with a bar is. Right is a
  /// phrase whose one is within 70 ms of a true downbeat, and of whose counts three in four (six of eight) are within
  /// 70 ms of the true beat on which they fall when every count is as many beats: 1, or another number up to 16 that
  /// divides the bar or is whole bars. So twice as many counts as beats are wrong, a waltz counted in one is right.
  /// The truth is a list of beats.
  CW_JUDGE_BY_BARS,
  /// With notes, that say which phrase it is: right when its one is within 70 ms of the true one of the phrase of that
  /// number. The truth is a list of ones; where it has no numbers, they are 1, 2, 3 ...
  CW_JUDGE_BY_NUMBER
} CwJudge;

/// Judge the phrases of a list of counts and take each in.
/// @param certain Whether to take in phrases with a confidence of 1 too, which are pinned.
void cw_eval_reliability_judge(const CwList *truth, const CwList *counts, CwJudge judge, bool certain,
                               CwReliability *reliability);

#endif
