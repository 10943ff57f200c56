// SPDX-License-Identifier: GPL-3.0-or-later
/// @file taps.h
/// Taps: times at which someone tapped along with a recording. Each is a little early or late (about 30 to 80 ms), all
/// of them by one delay on the whole, some are missing and some are double. They are soft evidence: they settle which
/// beats there are; the music and an even tempo settle when.
#ifndef COUNTWRIGHT_TAPS_H
#define COUNTWRIGHT_TAPS_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/beats.h"
#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// Fewer taps tell nothing.
#define CW_LEAST_TAPS 4

/// Taps as written. Release with cw_taps_free().
typedef struct {
  double *time_s; ///< seconds in the recording, ascending
  size_t n;
  CwDiagnostic *diagnostic; ///< lines that hold no time, in order; they gave no tap
  size_t n_diagnostics;
} CwTaps;

/// What was tapped.
typedef enum {
  CW_TAPS_ON_ANY, ///< not known: found by comparing how many taps there are with what the notes count; without notes, beats
  CW_TAPS_ON_BEATS,
  CW_TAPS_ON_COUNTS,
  CW_TAPS_ON_ONES
} CwTapsOn;

/// What was found out about taps.
typedef struct {
  CwTapsOn on;
  double delay_s;   ///< how much later than the music they are on the whole; negative when early
  double spread_s;  ///< standard deviation of the taps around that
  size_t n_missing; ///< places between the first tap and the last that have no tap
  size_t n_extra;   ///< taps that are on no place: double ones, slips
} CwTapsFound;

/// Read taps: a time to a line, as cw_parse_time() reads it. Blank lines, and what follows a '#', are nothing.
/// @param text `size` bytes, any content.
/// @param[out] taps Release with cw_taps_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_taps_parse(const char *text, size_t size, CwTaps *taps);

/// Beats and bars where they were tapped, from the first tap to the last: one for each tap, and one where a tap is
/// missing. `confidence` is the probability that the beat lies within 70 ms of its time.
/// @param options `metre`, `left_out` and `ear` are heeded, the rest is not; NULL for the defaults.
/// @param[out] beats Release with cw_beats_free(); empty on error.
/// @param[out] found NULL when not wanted.
/// @return CW_OK, CW_ERR_TOO_SHORT (under 2 s), CW_ERR_NO_PULSE (under 4 taps in the recording), CW_ERR_BAD_ARG,
/// CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_beats_by_taps(const CwFeatures *features, const CwTaps *taps,
                                              const CwBeatOptions *options, const CwReport *report, CwBeats *beats,
                                              CwTapsFound *found);

/// Release and set to empty. NULL is accepted.
CW_API void cw_taps_free(CwTaps *taps);

CW_END

#endif
