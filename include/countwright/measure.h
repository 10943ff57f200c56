// SPDX-License-Identifier: GPL-3.0-or-later
/// @file measure.h
/// All that is measured in a recording, reading it once at most.
#ifndef COUNTWRIGHT_MEASURE_H
#define COUNTWRIGHT_MEASURE_H

#include "countwright/align.h"
#include "countwright/api.h"
#include "countwright/cache.h"
#include "countwright/features.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// Measure a recording for what is asked, or take it from a cache. The result is the same bit for bit.
/// @param cache Where to look and to keep; NULL for none.
/// @param[out] features For counts, release with cw_features_free(); NULL: not wanted.
/// @param[out] align For alignment, release with cw_align_features_free(); NULL: not wanted.
/// @return As cw_features_read() and cw_align_features_read(); on error both are empty.
CW_API CW_NODISCARD CwStatus cw_measure(const char *path, const CwCache *cache, const CwReport *report,
                                        CwFeatures *features, CwAlignFeatures **align);

CW_END

#endif
