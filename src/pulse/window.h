// SPDX-License-Identifier: GPL-3.0-or-later
/// Means over a window that slides along a curve.
#ifndef CW_PULSE_WINDOW_H
#define CW_PULSE_WINDOW_H

#include <stdbool.h>
#include <stddef.h>

/// Sums over the window. Zero it before use.
typedef struct {
  double sum;
  size_t from, to;
} CwWindow;

/// Move a window of sums of `in` (or of its squares) to `reach` frames on each side of frame `i`. @return The mean.
double cw_window_mean(CwWindow *window, const float *in, size_t n, size_t i, size_t reach, bool square);

#endif
