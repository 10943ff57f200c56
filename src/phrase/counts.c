// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase/counts.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/phrases.h"

#define ROUNDING 1e-6 // of places in beats: thirds do not add up exactly

double cw_beats_per_count(double bpm, unsigned metre)
{
  if ((metre == 3 || metre == 6) && bpm >= 112.0) {
    return 3.0;
  }
  if (bpm < 48.0) {
    return 0.5;
  }
  return bpm > 170.0 && metre % 2 == 0 ? 2.0 : 1.0;
}

typedef struct {
  CwCount *count;
  size_t n, capacity;
  bool run_begun; ///< since the last count
} List;

static bool add(List *list, CwCount count)
{
  if (!cw_grow(&list->count, &list->capacity, list->n, sizeof *list->count)) {
    return false;
  }
  // a run that begins within a bar begins with its first count
  count.run_start = list->run_begun;
  list->run_begun = false;
  list->count[list->n++] = count;
  return true;
}

/// When beat `i` ends: the next beat of its run, or one more interval unless the next run begins before that.
static double beat_end(const CwBeats *beats, size_t i)
{
  const CwBeat *beat = beats->beat;
  const bool any_next = i + 1 < beats->n;
  if (any_next && !beat[i + 1].run_start) {
    return beat[i + 1].time_s;
  }
  const double interval_s = i > 0 && !beat[i].run_start ? beat[i].time_s - beat[i - 1].time_s : 0.5;
  const double end_s = beat[i].time_s + interval_s;
  return any_next ? fmin(end_s, beat[i + 1].time_s) : end_s;
}

/// First beat after `begin` where the run, the metre or the bar's order ends.
static size_t stretch_end(const CwBeats *beats, size_t begin)
{
  size_t end = begin + 1;
  while (end < beats->n && !beats->beat[end].run_start && beats->beat[end].metre == beats->beat[begin].metre) {
    end++;
  }
  return end;
}

static double stretch_bpm(const CwBeats *beats, size_t begin, size_t end)
{
  return 60.0 * (double)(end - begin) / (beat_end(beats, end - 1) - beats->beat[begin].time_s);
}

/// Time of a place in beats [begin, end): `at` beats after beat `begin`, by straight interpolation.
static double time_at(const CwBeats *beats, size_t begin, size_t end, double at)
{
  const double whole = floor(at + ROUNDING);
  if (whole >= (double)(end - begin)) {
    return beat_end(beats, end - 1);
  }
  const size_t i = begin + (size_t)whole;
  const double part = fmax(at - whole, 0.0);
  return beats->beat[i].time_s + (part > ROUNDING ? part * (beat_end(beats, i) - beats->beat[i].time_s) : 0.0);
}

/// Counts of `wanted` beats each in beats [begin, end), which are of one metre: from the first downbeat on, and back
/// from it through the beats before it.
static bool add_counts(List *list, const CwBeats *beats, size_t begin, size_t end, double wanted)
{
  const CwBeat *beat = &beats->beat[begin];
  const double before_bar = beat->position > 1 ? (double)beat->metre - (double)beat->position + 1.0 : 0.0;
  const double n = (double)(end - begin);
  list->run_begun = list->run_begun || beat->run_start;
  for (double k = -floor(before_bar / wanted + ROUNDING);; k++) {
    const double at = before_bar + k * wanted;
    if (at > n - ROUNDING) {
      return true;
    }
    const CwBeat *on = &beat[(size_t)floor(at + ROUNDING)];
    const bool bar_start = on->position == 1 && at - floor(at + ROUNDING) < ROUNDING;
    const double end_s = time_at(beats, begin, end, at + wanted);
    if (!add(list, (CwCount){time_at(beats, begin, end, at), end_s, bar_start, false, on->confidence})) {
      return false;
    }
  }
}

CwStatus cw_counts_make(const CwBeats *beats, double beats_per_count, CwCount **count, size_t *n, double *usual)
{
  List list = {NULL, 0, 0, false};
  size_t most = 0;
  *usual = beats_per_count > 0 ? beats_per_count : 1.0;
  for (size_t begin = 0, end = 0; begin < beats->n; begin = end) {
    end = stretch_end(beats, begin);
    const double wanted = beats_per_count > 0
                              ? beats_per_count
                              : cw_beats_per_count(stretch_bpm(beats, begin, end), beats->beat[begin].metre);
    const size_t before = list.n;
    if (!add_counts(&list, beats, begin, end, fmin(fmax(wanted, CW_LEAST_BEATS), CW_MOST_BEATS))) {
      free(list.count);
      *count = NULL;
      return CW_ERR_NO_MEM;
    }
    if (list.n - before > most) {
      most = list.n - before;
      *usual = wanted;
    }
  }
  // counts of a run follow each other without a gap
  for (size_t i = 0; i + 1 < list.n; i++) {
    const bool gap = list.count[i + 1].time_s > list.count[i].end_s + 1.0;
    list.count[i + 1].run_start = list.count[i + 1].run_start || gap;
    if (!list.count[i + 1].run_start) {
      list.count[i].end_s = list.count[i + 1].time_s;
    }
  }
  *count = list.count;
  *n = list.n;
  return CW_OK;
}
