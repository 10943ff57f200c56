// SPDX-License-Identifier: GPL-3.0-or-later
/// A guide: for each frame of a stretch of a, the time in b, as far as it is known; each step makes it finer.
#ifndef CW_ALIGN_GUIDE_H
#define CW_ALIGN_GUIDE_H

#include <stddef.h>

#include "align/features.h"

/// One run. Frames are those of the features, CW_ALIGN_RATE_HZ a second.
typedef struct {
  size_t first; ///< frame of a that it begins with
  size_t n;     ///< at least 2
  double *b_s;  ///< time in b for each
} CwGuide;

/// What is known about each frame of a guide before a curve is laid through it.
typedef struct {
  double *b_s;    ///< weighted mean of the times in b
  double *weight; ///< their weights' sum
} CwEvidence;

/// Start with none. @param[out] evidence Release with cw_evidence_free(). @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_evidence_init(size_t n, CwEvidence *evidence);

/// Add that frame `i` is at `b_s`.
void cw_evidence_add(CwEvidence *evidence, size_t i, double b_s, double weight);

/// Release.
void cw_evidence_free(CwEvidence *evidence);

/// Bend a guide to the evidence; see cw_curve_fit(), which is given what they differ by.
/// @return CW_OK or CW_ERR_NO_MEM (then the guide is as it was).
CW_NODISCARD CwStatus cw_guide_bend(CwGuide *guide, const CwEvidence *evidence, double stiffness, double outlier_s);

/// The time in b of a time in a; outside, it goes on at the pace of the second within.
double cw_guide_at(const CwGuide *guide, double a_s);

/// The time in a of a time in b, likewise.
double cw_guide_back(const CwGuide *guide, double b_s);

/// Release and set to empty.
void cw_guide_free(CwGuide *guide);

#endif
