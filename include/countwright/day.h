// SPDX-License-Identifier: GPL-3.0-or-later
/// @file day.h
/// The runs of one dance in a long recording, such as a whole day of rehearsal.
#ifndef COUNTWRIGHT_DAY_H
#define COUNTWRIGHT_DAY_H

#include <stddef.h>

#include "countwright/align.h"
#include "countwright/api.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// One time that the dance is run, whole or in part. All times are in seconds.
typedef struct {
  double begin_s; ///< in the day
  double end_s;
  double from_s; ///< what is danced, in the dance's own recording
  double to_s;
  double pace; ///< how fast, against that recording: 1.1 is a tenth faster; of the middle half of its longest stretch
  double sure; ///< 0 to 1: the mean of what cw_time_map_sure() says of its points
} CwDayRun;

/// The runs, in the order of the day. Release with cw_day_runs_free().
typedef struct {
  CwDayRun *run;
  size_t n; ///< 0 where the dance is not in the day
} CwDayRuns;

/// Find where the day has the dance's music. What is found is aligned in full, and only what cw_align() takes for the same
/// music is kept. Stretches with less than 20 s between them that go on where the one before stopped are one run; a run
/// of less than 8 s is not told from chance.
/// @param dance A recording of the dance. @param day At most some hours longer.
/// @param[out] runs Empty on error. @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_day_search(const CwAlignFeatures *dance, const CwAlignFeatures *day,
                                           const CwReport *report, CwDayRuns *runs);

/// Align one run of the day. @param[out] map From the dance to the day, as by cw_align(): its times are those of the day.
/// @return As cw_align().
CW_API CW_NODISCARD CwStatus cw_day_align(const CwAlignFeatures *dance, const CwAlignFeatures *day, const CwDayRun *run,
                                          const CwReport *report, CwTimeMap *map);

/// Release and set to empty. NULL is accepted.
CW_API void cw_day_runs_free(CwDayRuns *runs);

CW_END

#endif
