// SPDX-License-Identifier: GPL-3.0-or-later
/// How alike the music of repeated phrases is.
#ifndef CW_LINEUP_LIKENESS_H
#define CW_LINEUP_LIKENESS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/status.h"
#include "lineup/plan.h"

/// Which counts are counterparts of which, and the harmony of the recording. Release with cw_likeness_free().
typedef struct {
  const CwPlan *plan;
  double *sum;   ///< (n_rows + 1) rows of 12: sums of chroma, less its mean, before each row
  size_t n_rows; ///< rows of chroma, CW_FEATURE_RATE_HZ / CW_SLOW_STEP a second
  size_t *model; ///< by count: the count of the first phrase like its own that it is a counterpart of, itself if that
                 ///< is its own, CW_NONE if it has no counterparts
  size_t *first; ///< by phrase: its first count
  size_t n_phrases; ///< of the plan
  bool *is_alike;   ///< by phrase: its music is like that of its counterparts; see cw_likeness_judge()
  double *harmony;  ///< by count: 12 values, its mean chroma where it lies; length 1, or zeros
  double *all;      ///< by count: 12 values: of a count that is a model, the sum of its counterparts' and its own ...
  size_t *n_all;    ///< ... and how many these are
  double *length_s; ///< by count: how long it is where it lies
} CwLikeness;

/// Set up for a plan. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_likeness_init(CwLikeness *likeness, const CwFeatures *features, const CwNotebook *notebook,
                                       const CwPlan *plan);

/// Whether any phrase repeats another.
bool cw_likeness_any(const CwLikeness *likeness);

/// Take the counts to lie at these times.
/// @param n Those that have a time.
void cw_likeness_place(CwLikeness *likeness, const double *time_s, size_t n);

/// How alike the music from `time_s` on, `length_s` long, is to the counterparts of a count, on the mean over them: -1 to
/// 1; 0 when unknown. Counterparts that are unlike each other can so be like nothing.
double cw_likeness_at(const CwLikeness *likeness, size_t count, double time_s, double length_s);

/// Mean likeness of phrase `p` if it lay `shift_s` later than at `time_s`.
double cw_likeness_of_phrase(const CwLikeness *likeness, size_t p, const double *time_s, double shift_s);

/// Judge which phrases are alike in their music, each wherever it fits best within a few counts.
/// @param n Counts that have a time.
/// @param[out] n_repeats Phrases that repeat another. @param[out] n_alike Those of them that are alike.
/// @return Whether some phrase fits plainly better elsewhere than where it lies.
bool cw_likeness_judge(CwLikeness *likeness, const double *time_s, size_t n, size_t *n_repeats, size_t *n_alike);

/// Release and set to empty.
void cw_likeness_free(CwLikeness *likeness);

#endif
