// SPDX-License-Identifier: GPL-3.0-or-later
/// How much a vector changes around each frame: what went before it against what comes after.
#ifndef CW_DSP_CHANGE_H
#define CW_DSP_CHANGE_H

#include <stdbool.h>
#include <stddef.h>

#define CW_CHANGE_WIDTH 16 ///< most columns of a row
#define CW_CHANGE_REACH 40 ///< frames looked at on each side
#define CW_CHANGE_GAP 4    ///< frames next to the middle that are left out: the attack itself

/// Sums over the two sides of a sliding middle. Zero it before use.
typedef struct {
  float row[2 * CW_CHANGE_REACH + 1][CW_CHANGE_WIDTH]; ///< the last rows, oldest overwritten
  double before[CW_CHANGE_WIDTH];
  double after[CW_CHANGE_WIDTH];
  size_t n; ///< rows so far
} CwChange;

/// Add the next row of CW_CHANGE_WIDTH values, not negative.
/// @param[out] value 1 - cosine of the sums before and after the row CW_CHANGE_REACH ago: 0 to 1.
/// @return Whether there is such a row yet.
bool cw_change_push(CwChange *change, const float *row, float *value);

#endif
