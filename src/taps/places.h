// SPDX-License-Identifier: GPL-3.0-or-later
/// Where taps may be: places in an order, known from notes or not.
#ifndef CW_TAPS_PLACES_H
#define CW_TAPS_PLACES_H

#include <stdbool.h>
#include <stddef.h>

/// Where the notes say that taps may be, in order. Before the first place and after the last they go on alike.
typedef struct {
  size_t n;               ///< 0 when there are no notes: places then count from the first tap, a beat each
  size_t bar;             ///< places in a bar: so many taps, less one, may well be a pick-up
  size_t n_needed;        ///< those after this many are within the last count: it is no wonder if they are not tapped
  const double *beats;    ///< beats before each place, ascending
  const float *accent;    ///< how accented each should be; 0 when not known
  const bool *after_hold; ///< music out of tempo may lie before it
  const double *pin_s;    ///< where each must be; NaN when free
  double begin_s;         ///< where the music begins; NaN when not known
} CwTapPlaces;

/// Beats before a place, which may lie outside.
double cw_tap_place_beats(const CwTapPlaces *places, long place);

/// The place nearest to so many beats.
long cw_tap_place_at(const CwTapPlaces *places, double beats);

/// Whether a place is one of the notes'.
bool cw_tap_place_is_noted(const CwTapPlaces *places, long place);

/// How accented a place should be, which may lie outside: bars then go on alike.
float cw_tap_place_accent(const CwTapPlaces *places, long place);

/// Whether music out of tempo may lie after place `from`, up to place `to`.
bool cw_tap_place_is_held(const CwTapPlaces *places, long from, long to);

#endif
