// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/pace.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// A curve being made.
typedef struct {
  CwPaceCurve *curve;
  size_t room;
  double out_s;
} Making;

static CwStatus add(Making *making, double from_s)
{
  CwPaceCurve *curve = making->curve;
  if (curve->n > 0 && from_s <= curve->knot[curve->n - 1].from_s) {
    return CW_OK; // no hold lies between two phrases
  }
  if (!cw_grow(&curve->knot, &making->room, curve->n, sizeof *curve->knot)) {
    return CW_ERR_NO_MEM;
  }
  curve->knot[curve->n++] = (CwPaceKnot){from_s, making->out_s};
  return CW_OK;
}

static const CwPhrase *phrase_of(const CwPlacedLine *placed, size_t row)
{
  const size_t k = placed->phrase[row];
  return k == SIZE_MAX ? NULL : &placed->line->phrase[k];
}

static double start_of(const CwPlacedLine *placed, size_t row)
{
  return placed->line->count_s[phrase_of(placed, row)->first_count];
}

/// The hold between a row and the next.
static double hold_after(const CwPlacedLine *placed, size_t row)
{
  return fmax(0, start_of(placed, row + 1) - phrase_of(placed, row)->end_s);
}

/// Mean seconds of a count in the rows of one section from `row` on, up to `last`.
static double mean_count(const CwPlacedLine *own, size_t row, size_t last, const size_t *section)
{
  double sum = 0;
  unsigned counts = 0;
  for (size_t r = row; r <= last && section[r] == section[row]; r++) {
    const CwPhrase *phrase = phrase_of(own, r);
    sum += phrase->end_s - start_of(own, r);
    counts += phrase->counts;
  }
  return sum / counts;
}

static CwStatus make_even(const CwPlacedLine *own, size_t first, size_t last, const size_t *section, double speed,
                          Making *making)
{
  CwStatus status = CW_OK;
  double count_s = 0;
  for (size_t r = first; r <= last && status == CW_OK; r++) {
    const CwPhrase *phrase = phrase_of(own, r);
    if (r == first || section[r] != section[r - 1]) {
      count_s = mean_count(own, r, last, section) / speed;
    }
    for (unsigned c = 0; c < phrase->counts && status == CW_OK; c++) {
      status = add(making, own->line->count_s[phrase->first_count + c]);
      making->out_s += count_s;
    }
    if (status == CW_OK) {
      status = add(making, phrase->end_s);
    }
    making->out_s += r < last ? hold_after(own, r) / speed : 0;
  }
  return status;
}

/// How long a row lasts in the other recording; as before it where that lacks the row.
static double length_like(const CwPlacedLine *own, const CwPlacedLine *like, size_t row, double *ratio)
{
  // beyond these nobody plays the same music: the counts have gone astray
  static const double least = 0.4;
  static const double most = 2.5;
  const double own_s = phrase_of(own, row)->end_s - start_of(own, row);
  if (phrase_of(like, row)) {
    *ratio = fmin(fmax((phrase_of(like, row)->end_s - start_of(like, row)) / own_s, least), most);
  }
  return own_s * *ratio;
}

/// How long the hold after a row lasts in the other recording; as its phrase where the music does not go on there.
static double hold_like(const CwPlacedLine *own, const CwPlacedLine *like, size_t row, double ratio)
{
  const double own_s = hold_after(own, row);
  const bool there = phrase_of(like, row) && phrase_of(like, row + 1) && like->phrase[row + 1] == like->phrase[row] + 1;
  return there && own_s > 0 ? fmax(hold_after(like, row), 0.1 * own_s) : own_s * ratio;
}

static CwStatus make_like(const CwPlacedLine *own, size_t first, size_t last, const CwPlacedLine *like, double speed,
                          Making *making)
{
  CwStatus status = CW_OK;
  double ratio = 1;
  for (size_t r = first; r <= last && status == CW_OK; r++) {
    status = add(making, start_of(own, r));
    making->out_s += length_like(own, like, r, &ratio) / speed;
    if (status == CW_OK) {
      status = add(making, phrase_of(own, r)->end_s);
    }
    making->out_s += r < last ? hold_like(own, like, r, ratio) / speed : 0;
  }
  return status;
}

static CwStatus make_living(const CwPlacedLine *own, size_t first, size_t last, double speed, Making *making)
{
  CwStatus status = add(making, start_of(own, first));
  if (status == CW_OK) {
    making->out_s = (phrase_of(own, last)->end_s - start_of(own, first)) / speed;
    status = add(making, phrase_of(own, last)->end_s);
  }
  making->curve->as_it_is = speed == 1;
  return status;
}

CwStatus cw_pace_make(const CwPlacedLine *own, size_t first, size_t last, const size_t *section, CwPace pace,
                      const CwPlacedLine *like, double speed, CwPaceCurve *curve)
{
  *curve = (CwPaceCurve){.outer = 1 / speed};
  Making making = {.curve = curve};
  CwStatus status = CW_OK;
  if (pace == CW_PACE_EVEN) {
    status = make_even(own, first, last, section, speed, &making);
  } else if (pace == CW_PACE_LIKE) {
    status = make_like(own, first, last, like, speed, &making);
  } else {
    status = make_living(own, first, last, speed, &making);
  }
  if (status != CW_OK) {
    cw_pace_free(curve);
  }
  return status;
}

/// The last knot at or before a time, but not the very last.
static size_t knot_before(const CwPaceCurve *curve, double from_s)
{
  size_t low = 0;
  size_t high = curve->n - 1;
  while (high - low > 1) {
    const size_t middle = low + (high - low) / 2;
    if (curve->knot[middle].from_s <= from_s) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return low;
}

double cw_pace_ratio(const CwPaceCurve *curve, double from_s)
{
  if (from_s < curve->knot[0].from_s || from_s >= curve->knot[curve->n - 1].from_s) {
    return curve->outer;
  }
  const CwPaceKnot *knot = &curve->knot[knot_before(curve, from_s)];
  return (knot[1].out_s - knot->out_s) / (knot[1].from_s - knot->from_s);
}

double cw_pace_at(const CwPaceCurve *curve, double from_s)
{
  const CwPaceKnot *end = &curve->knot[curve->n - 1];
  if (from_s >= end->from_s) {
    return end->out_s + (from_s - end->from_s) * curve->outer;
  }
  if (from_s < curve->knot[0].from_s) {
    return curve->knot[0].out_s + (from_s - curve->knot[0].from_s) * curve->outer;
  }
  const CwPaceKnot *knot = &curve->knot[knot_before(curve, from_s)];
  return knot->out_s + (from_s - knot->from_s) * cw_pace_ratio(curve, from_s);
}

void cw_pace_free(CwPaceCurve *curve)
{
  free(curve->knot);
  *curve = (CwPaceCurve){0};
}
