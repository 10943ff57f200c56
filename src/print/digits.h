// SPDX-License-Identifier: GPL-3.0-or-later
/// Digits after the point in JSON and CSV: what is known, and no more.
#ifndef CW_PRINT_DIGITS_H
#define CW_PRINT_DIGITS_H

#include <math.h>

enum { CW_TIME_DIGITS = 3, CW_TEMPO_DIGITS = 2, CW_PERCENT_DIGITS = 2, CW_CONFIDENCE_DIGITS = 3, CW_COUNT_DIGITS = 4 };

/// A value of which negative (or 0, where it must be positive) means unknown: NaN then, which is written as nothing.
static inline double cw_known(double value, double least)
{
  return value >= least ? value : (double)NAN;
}

#endif
