// SPDX-License-Identifier: GPL-3.0-or-later
/// Readings of taps: what the taps so far are taken for. Each carries a Kalman filter of where the last place was and how
/// long a beat is (Kalman 1960).
#ifndef CW_TAPS_READING_H
#define CW_TAPS_READING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "taps/habit.h"
#include "taps/places.h"
#include "taps/signs.h"

/// Most ways in which a reading may go on with one tap.
#define CW_TAP_OPTIONS 20

/// What readings are weighed by.
typedef struct {
  const CwTapPlaces *places;
  const CwTapSigns *signs;
  CwTapHabit habit;
} CwTapBelief;

/// A reading of the taps so far.
typedef struct {
  double at_s, beat_s;           ///< where the last place was, and how long a beat is
  double at_var, both, beat_var; ///< their covariance
  double usual_s;                ///< how long a beat mostly is
  double score;                  ///< logarithm of its probability
  long place;                    ///< of the last tap that was on one
  int32_t before;                ///< index among the readings of the tap before
  bool extra;                    ///< the last tap is on no place
} CwTapReading;

/// A reading of the first tap.
CwTapReading cw_tap_reading_first(const CwTapBelief *belief, double tap_s, double beat_s, long place);

/// All ways to go on with the next tap.
/// @param apart_s From it to the nearest other tap. @param index Of the reading, for `before`.
/// @param[out] next Room for CW_TAP_OPTIONS. @return How many there are.
size_t cw_tap_reading_go_on(const CwTapBelief *belief, const CwTapReading *reading, int32_t index, double tap_s,
                            double apart_s, CwTapReading *next);

/// What a reading of all taps comes to, knowing how many places the notes have.
double cw_tap_reading_total(const CwTapBelief *belief, const CwTapReading *reading);

#endif
