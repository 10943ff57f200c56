// SPDX-License-Identifier: GPL-3.0-or-later
/// The pace at which a passage is played: which time of the recording comes out when.
#ifndef CW_PRACTICE_PACE_H
#define CW_PRACTICE_PACE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/practice.h"

/// A time in the recording, and when it comes out, counted from the beginning of the passage.
typedef struct {
  double from_s;
  double out_s;
} CwPaceKnot;

/// Knots, ascending in both times; straight between them and beyond.
typedef struct {
  CwPaceKnot *knot;
  size_t n;      ///< at least 2
  double outer;  ///< out seconds for one of the recording, before and after them
  bool as_it_is; ///< nothing is changed
} CwPaceCurve;

/// Where a phrase is: its index in a count line.
typedef struct {
  const CwCountLine *line;
  const size_t *phrase; ///< for each row of the sheet; SIZE_MAX where the line lacks it
} CwPlacedLine;

/// The curve of the rows `first` to `last`, which the line has all.
/// @param section For each row the number of the section it belongs to; even tempo is even within one.
/// @param like NULL unless the pace is CW_PACE_LIKE.
/// @param speed 1 is the pace itself, 0.5 half as fast.
/// @param[out] curve Release with cw_pace_free(). @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_pace_make(const CwPlacedLine *own, size_t first, size_t last, const size_t *section,
                                   CwPace pace, const CwPlacedLine *like, double speed, CwPaceCurve *curve);

/// When a time of the recording comes out.
double cw_pace_at(const CwPaceCurve *curve, double from_s);

/// How many times as long the music lasts there.
double cw_pace_ratio(const CwPaceCurve *curve, double from_s);

/// Release.
void cw_pace_free(CwPaceCurve *curve);

#endif
