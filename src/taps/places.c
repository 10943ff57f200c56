// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/places.h"

#include <math.h>

/// Beats from a place to the next, on the whole.
static double mean_step(const CwTapPlaces *places)
{
  return (places->beats[places->n - 1] - places->beats[0]) / (double)(places->n - 1);
}

double cw_tap_place_beats(const CwTapPlaces *places, long place)
{
  if (places->n < 2) {
    return (double)place;
  }
  if (place < 0) {
    return places->beats[0] + mean_step(places) * (double)place;
  }
  const size_t last = places->n - 1;
  return (size_t)place <= last ? places->beats[place]
                               : places->beats[last] + mean_step(places) * (double)((size_t)place - last);
}

long cw_tap_place_at(const CwTapPlaces *places, double beats)
{
  if (places->n < 2) {
    return lround(beats);
  }
  const size_t last = places->n - 1;
  if (beats <= places->beats[0]) {
    return lround((beats - places->beats[0]) / mean_step(places));
  }
  if (beats >= places->beats[last]) {
    return (long)last + lround((beats - places->beats[last]) / mean_step(places));
  }
  size_t low = 0;
  size_t high = last;
  while (high - low > 1) {
    const size_t middle = (low + high) / 2;
    *(places->beats[middle] <= beats ? &low : &high) = middle;
  }
  return (long)(beats - places->beats[low] < places->beats[high] - beats ? low : high);
}

bool cw_tap_place_is_noted(const CwTapPlaces *places, long place)
{
  return place >= 0 && (size_t)place < places->n;
}

float cw_tap_place_accent(const CwTapPlaces *places, long place)
{
  const long n = (long)places->n;
  const long bar = (long)places->bar;
  if (n < bar || bar == 0) {
    return cw_tap_place_is_noted(places, place) ? places->accent[place] : 0.0F;
  }
  if (place < 0) {
    return places->accent[(place % bar + bar) % bar];
  }
  return places->accent[place < n ? place : n - bar + (place - n) % bar];
}

bool cw_tap_place_is_held(const CwTapPlaces *places, long from, long to)
{
  for (long place = from + 1; place <= to; place++) {
    if (cw_tap_place_is_noted(places, place) && places->after_hold[place]) {
      return true;
    }
  }
  return false;
}
