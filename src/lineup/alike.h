// SPDX-License-Identifier: GPL-3.0-or-later
/// Repeated phrases as evidence: where the notes say "same as 3", the music is probably the same, too.
///
/// Of every repeated phrase each count has a likeness: the mean chroma of its counterparts where they lie now, with the
/// recording's mean chroma taken off. Where some phrase is plainly more like its counterparts when it is moved by some
/// counts, the counts are searched for again with likeness as further evidence: once with the later phrases after the
/// earlier ones, once the other way about. That path is kept which is worth most by the music and by likeness together;
/// it may be the one there was.
#ifndef CW_LINEUP_ALIKE_H
#define CW_LINEUP_ALIKE_H

#include "countwright/evidence.h"
#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "lineup/follow.h"

/// @param plan As searched for; its counts' `worth` is used and left NULL.
/// @param score Of the path in `time_s`, by cw_follow_scored().
/// @param[in,out] time_s As found by cw_follow() with the same bands. @param[in,out] n_found Likewise.
/// @param[out] evidence Told of the repeats.
/// @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_follow_alike(const CwFeatures *features, const CwNotebook *notebook, CwPlan *plan,
                                      const CwSight *sight, const CwBands *bands, double score, const CwReport *report,
                                      double *time_s, size_t *n_found, CwEvidence *evidence);

#endif
