// SPDX-License-Identifier: GPL-3.0-or-later
/// How sure ones are: the search is done again, each time with the evidence shaken, and a one is as sure as it is often
/// found where it was (perturb and decode: Papandreou and Yuille 2011).
#ifndef CW_LINEUP_DOUBT_H
#define CW_LINEUP_DOUBT_H

#include "lineup/follow.h"

/// Where shaken searches find the ones. Release with cw_doubt_free().
typedef struct {
  float *one_s;   ///< by search and phrase; NaN where it is not found
  size_t n;       ///< searches
  size_t phrases; ///< of the plan
} CwDoubt;

/// Search again near a path. The same in gives the same out.
/// @param bands Those of the search that found the path; only `first` and `width` are of no matter.
/// @param time_s Of the counts, the first `n_found` of which are in the music.
/// @param[out] doubt Empty on error.
/// @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_doubt_search(const CwPlan *plan, const CwSight *sight, const CwBands *bands,
                                      const double *time_s, size_t n_found, const CwReport *report, CwDoubt *doubt);

/// Probability that the one of a phrase is within 70 ms of `one_s`; negative where nothing was searched.
/// @param phrase Counted from the first of the plan.
double cw_doubt_sure(const CwDoubt *doubt, size_t phrase, double one_s);

/// Release and set to empty.
void cw_doubt_free(CwDoubt *doubt);

#endif
