// SPDX-License-Identifier: GPL-3.0-or-later
/// Axes with round numbers.
#ifndef CW_PRINT_AXIS_H
#define CW_PRINT_AXIS_H

/// An axis from `low` to `high`, both multiples of `step`.
typedef struct {
  double low;
  double high;
  double step; ///< 1, 2 or 5 times a power of ten
  int digits;  ///< after the point of its numbers
} CwAxis;

/// The axis that holds `low` to `high` with at most about `most` steps. Where the two are equal (or neither is a number)
/// it has some room around them.
CwAxis cw_axis(double low, double high, unsigned most);

/// The same with steps of whole numbers only.
CwAxis cw_axis_whole(double low, double high, unsigned most);

#endif
