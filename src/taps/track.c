// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/track.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "taps/pace.h"
#include "taps/reading.h"

enum { KEPT = 200, ALIKE = 10 };

#define MOST_BEFORE 12 // taps before the notes begin
#define HOPELESS 30.0  // a reading so much less probable than the best is dropped

typedef struct {
  CwTapBelief belief;        ///< its habit is being tried
  CwTapReading *kept, *next; ///< next: room for all options of all kept
  size_t n_kept, n_next;
  int32_t *before; ///< by tap and reading
  long *place;     ///< by tap and reading: CW_EXTRA_TAP or the place
} Track;

static int by_score(const void *a, const void *b)
{
  const CwTapReading *left = a;
  const CwTapReading *right = b;
  if (left->score != right->score) {
    return left->score > right->score ? -1 : 1;
  }
  return left->before < right->before ? -1 : left->before > right->before;
}

/// Drop those that are far less probable than the best.
static void drop_hopeless(Track *t)
{
  double best = -INFINITY;
  for (size_t i = 0; i < t->n_next; i++) {
    best = fmax(best, t->next[i].score);
  }
  size_t n = 0;
  for (size_t i = 0; i < t->n_next; i++) {
    if (t->next[i].score >= best - HOPELESS) {
      t->next[n++] = t->next[i];
    }
  }
  t->n_next = n;
}

/// Keep the best readings, not too many with the same place.
static void keep_best(Track *t, size_t tap)
{
  drop_hopeless(t);
  qsort(t->next, t->n_next, sizeof *t->next, by_score);
  t->n_kept = 0;
  for (size_t i = 0; i < t->n_next && t->n_kept < KEPT; i++) {
    size_t alike = 0;
    for (size_t k = 0; k < t->n_kept; k++) {
      alike += t->kept[k].place == t->next[i].place;
    }
    if (alike < ALIKE) {
      CwTapReading *kept = &t->kept[t->n_kept];
      *kept = t->next[i];
      t->before[tap * KEPT + t->n_kept] = kept->before;
      t->place[tap * KEPT + t->n_kept++] = kept->extra ? CW_EXTRA_TAP : kept->place;
      kept->extra = false;
    }
  }
  t->n_next = 0;
}

/// Median of the first few intervals.
static double first_interval(const double *tap_s, size_t n)
{
  double interval[9];
  size_t n_intervals = 0;
  for (size_t i = 1; i < n && n_intervals < 9; i++) {
    if (tap_s[i] > tap_s[i - 1]) {
      interval[n_intervals++] = tap_s[i] - tap_s[i - 1];
    }
  }
  return n_intervals > 0 ? cw_taps_middle(interval, n_intervals) : 0.5;
}

/// Readings of the first tap: wherever the notes may begin.
static void begin(Track *t, const double *tap_s, size_t n)
{
  const CwTapPlaces *places = t->belief.places;
  const double step = cw_tap_place_beats(places, 0) - cw_tap_place_beats(places, -1);
  const double beat_s = first_interval(tap_s, n) / step;
  const long last = places->n > 0 ? (long)places->n - 1 : 0;
  for (long place = places->n > 0 ? -MOST_BEFORE : 0; place <= last && t->n_next < KEPT; place++) {
    t->next[t->n_next++] = cw_tap_reading_first(&t->belief, tap_s[0], beat_s, place);
  }
  keep_best(t, 0);
}

/// Follow the best reading back. @return Its score.
static double trace(const Track *t, size_t n, long *place)
{
  size_t best = 0;
  for (size_t k = 1; k < t->n_kept; k++) {
    best = cw_tap_reading_total(&t->belief, &t->kept[k]) > cw_tap_reading_total(&t->belief, &t->kept[best]) ? k : best;
  }
  const double score = cw_tap_reading_total(&t->belief, &t->kept[best]);
  for (size_t tap = n; tap-- > 0;) {
    place[tap] = t->place[tap * KEPT + best];
    best = (size_t)t->before[tap * KEPT + best];
  }
  return score;
}

static double follow(Track *t, const double *tap_s, size_t n, long *place)
{
  begin(t, tap_s, n);
  for (size_t tap = 1; tap < n; tap++) {
    const double before_s = tap_s[tap] - tap_s[tap - 1];
    const double apart_s = tap + 1 < n ? fmin(before_s, tap_s[tap + 1] - tap_s[tap]) : before_s;
    for (size_t k = 0; k < t->n_kept; k++) {
      t->n_next += cw_tap_reading_go_on(&t->belief, &t->kept[k], (int32_t)k, tap_s[tap], apart_s, t->next + t->n_next);
    }
    keep_best(t, tap);
  }
  return trace(t, n, place);
}

/// What is tried of a habit's traits, one after the other.
typedef struct {
  size_t offset; ///< of the trait in a habit
  size_t n;
  double value[5];
} Trait;

/// Keep the value of each trait that makes the taps most probable.
static void find_habit(Track *t, const double *tap_s, size_t n, long *tried, long *place)
{
  static const Trait trait[] = {
      {offsetof(CwTapHabit, change), 3, {0.03, 0.08, 0.2}},
      {offsetof(CwTapHabit, spread_s), 2, {0.02, 0.05}},
      {offsetof(CwTapHabit, jump), 2, {0.02, 0.1}},
  };
  double best = -INFINITY;
  for (size_t i = 0; i < sizeof trait / sizeof *trait; i++) {
    double *value = (double *)(void *)((char *)&t->belief.habit + trait[i].offset);
    double kept = *value;
    for (size_t k = 0; k < trait[i].n; k++) {
      *value = trait[i].value[k];
      const double score = follow(t, tap_s, n, tried);
      if (score > best) {
        best = score;
        kept = *value;
        memcpy(place, tried, n * sizeof *place);
      }
    }
    *value = kept;
  }
}

CwStatus cw_taps_track(const double *tap_s, size_t n, const CwTapPlaces *places, const CwTapSigns *signs,
                       CwTapHabit *habit, long *place)
{
  Track t = {.belief = {places, signs, {habit->delay_s, 0.035, 0.05, 0.05}}};
  long *tried = cw_new(n, sizeof *tried);
  t.kept = cw_new(KEPT, sizeof *t.kept);
  t.next = cw_new((size_t)KEPT * CW_TAP_OPTIONS, sizeof *t.next);
  t.before = cw_new(n * KEPT, sizeof *t.before);
  t.place = cw_new(n * KEPT, sizeof *t.place);
  const bool good = tried && t.kept && t.next && t.before && t.place;
  if (good) {
    find_habit(&t, tap_s, n, tried, place);
    *habit = t.belief.habit;
  }
  free(tried);
  free(t.kept);
  free(t.next);
  free(t.before);
  free(t.place);
  return good ? CW_OK : CW_ERR_NO_MEM;
}
