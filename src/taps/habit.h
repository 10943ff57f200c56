// SPDX-License-Identifier: GPL-3.0-or-later
/// How someone taps.
#ifndef CW_TAPS_HABIT_H
#define CW_TAPS_HABIT_H

/// What holds for all taps of a recording.
typedef struct {
  double delay_s;  ///< taps minus beats, on the whole
  double spread_s; ///< standard deviation of a tap around that
  double change;   ///< standard deviation of ln(tempo) from a beat to the next ...
  double jump;     ///< ... but for this share, which may be of any size
} CwTapHabit;

#define CW_TWO_PI 6.283185307179586

#endif
