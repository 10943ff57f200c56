// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/track.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/features.h"

enum { KEPT = 160, ALIKE = 5, OPTIONS = 20 };

// Probabilities, as their logarithms.
#define ON_PLACE (-0.05)    // of a tap that should be there
#define MISSING (-3.7)      // of one that is not (2.5 %) ...
#define MISSING_NEXT (-0.7) // ... and of the next one then missing too
#define UNTAPPED (-0.35)    // of each place after the last tap
#define PICK_UP (-2.7)      // of taps before the notes begin, within a bar ...
#define BESIDE (-6.0)       // ... of taps farther before them or after their end ...
#define BESIDE_NEXT (-0.3)  // ... and of each more
#define EXTRA (-3.9)        // of a tap on no place (2 %) ...
#define FAR_EXTRA (-3.0)    // ... and that it is far from any other
#define DOUBLE_S 0.2        // double taps are so near each other
#define JUMP_CHANGE 0.5     // ln(tempo)
#define JUMP_WIDTH 4.0      // ln of the slowest tempo over the quickest, for one that begins anew
#define FIRST_CHANGE 0.3
#define DRAWN 0.4   // of the jumps are a beat drawn out, in the same tempo, by a little ...
#define LITTLE 0.15 // ... by about so many beats ...
#define LATE 0.3    // ... or by much ...
#define MUCH 0.5
#define CHANGED 0.2 // ... these change the tempo by much ...
#define ANEW 0.1    // ... and these begin another
#define AGAIN 0.2   // ... or the usual one again
#define USUAL_CHANGE 0.2
#define USUAL_RATE 0.1
#define QUICKEST_S 0.1
#define ACCENT_WEIGHT 1.0
#define HELD_S 10.0    // a hold is about so long
#define MOST_BEFORE 12 // taps before the notes begin
#define SEEN_NEAR 3    // frames
#define LEAST_SEEN (-1.0F)
#define PIN_SPREAD_S 0.15
#define PIN_MOST 40.0

/// A reading of the taps so far.
typedef struct {
  double at_s, beat_s;           ///< where the last place was, and how long a beat is
  double at_var, both, beat_var; ///< their covariance
  double usual_s;                ///< how long a beat mostly is
  double score;
  long place;     ///< of the last tap that was on one
  int32_t before; ///< index among the readings of the tap before
  bool extra;
} Reading;

typedef struct {
  const CwTapPlaces *places;
  const CwTapView *view;
  float usual;          ///< mean of seen_near() over the recording
  CwTapHabit habit;     ///< being tried
  Reading *kept, *next; ///< next: room for all options of all kept
  size_t n_kept, n_next;
  int32_t *before; ///< by tap and reading
  long *place;     ///< by tap and reading: CW_EXTRA_TAP or the place
} Track;

double cw_tap_place_beats(const CwTapPlaces *places, long place)
{
  if (places->n < 2) {
    return (double)place;
  }
  const double step = (places->beats[places->n - 1] - places->beats[0]) / (double)(places->n - 1);
  if (place < 0) {
    return places->beats[0] + step * (double)place;
  }
  const size_t last = places->n - 1;
  return (size_t)place <= last ? places->beats[place] : places->beats[last] + step * (double)((size_t)place - last);
}

/// The place nearest to so many beats.
static long nearest_place(const CwTapPlaces *places, double beats)
{
  if (places->n < 2) {
    return lround(beats);
  }
  const size_t last = places->n - 1;
  const double step = (places->beats[last] - places->beats[0]) / (double)last;
  if (beats <= places->beats[0] || beats >= places->beats[last]) {
    const bool early = beats <= places->beats[0];
    return early ? lround((beats - places->beats[0]) / step)
                 : (long)last + lround((beats - places->beats[last]) / step);
  }
  size_t low = 0;
  size_t high = last;
  while (high - low > 1) {
    const size_t middle = (low + high) / 2;
    *(places->beats[middle] <= beats ? &low : &high) = middle;
  }
  return (long)(beats - places->beats[low] < places->beats[high] - beats ? low : high);
}

static bool is_within(const CwTapPlaces *places, long place)
{
  return place >= 0 && (size_t)place < places->n;
}

/// What a tap before the first place or after the last is worth.
static double beside(const CwTapPlaces *places, long place)
{
  const long before = -place;
  if (before == (long)places->bar || place == (long)places->n) {
    return BESIDE;
  }
  return before == 1 ? PICK_UP : before > 0 && before < (long)places->bar ? 0.0 : BESIDE_NEXT;
}

/// How much like a beat the music is about `time_s` at best.
static float seen_near(const CwTapView *view, double time_s)
{
  const long middle = lround(time_s * CW_FEATURE_RATE_HZ);
  float best = LEAST_SEEN;
  for (long frame = middle - SEEN_NEAR; frame <= middle + SEEN_NEAR; frame++) {
    best = frame >= 0 && (size_t)frame < view->n ? fmaxf(best, view->beat[frame]) : best;
  }
  return best;
}

/// Mean of seen_near() over the recording, from one frame in five.
static float usual_sight(const CwTapView *view)
{
  double sum = 0;
  size_t n = 0;
  for (size_t frame = 0; view->beat && frame < view->n; frame += 5, n++) {
    sum += (double)seen_near(view, (double)frame / CW_FEATURE_RATE_HZ);
  }
  return n > 0 ? (float)(sum / (double)n) : 0.0F;
}

/// What the music says for beats that were not tapped, evenly between two taps.
static double seen_between(const Track *t, double from_s, double to_s, long missing)
{
  double sum = 0;
  for (long i = 1; t->view->beat && i <= missing; i++) {
    const double share = (double)i / (double)(missing + 1);
    sum += (double)(seen_near(t->view, from_s + share * (to_s - from_s) - t->habit.delay_s) - t->usual);
  }
  return sum;
}

/// What a tap on a place is worth by the notes and the music.
static double worth_of(const Track *t, long place, double at_s)
{
  if (t->places->n == 0) {
    return ON_PLACE;
  }
  if (!is_within(t->places, place)) {
    return beside(t->places, place);
  }
  const double pin_s = t->places->pin_s[place];
  if (!isnan(pin_s)) {
    const double off = (at_s - t->habit.delay_s - pin_s) / PIN_SPREAD_S;
    return ON_PLACE - fmin(0.5 * off * off, PIN_MOST);
  }
  const double frame = round((at_s - t->habit.delay_s) * CW_FEATURE_RATE_HZ);
  const double accent = (double)t->places->accent[place];
  if (accent == 0.0 || !t->view->accent || frame < 0 || frame >= (double)t->view->n) {
    return ON_PLACE;
  }
  return ON_PLACE + ACCENT_WEIGHT * accent * ((double)t->view->accent[(size_t)frame] - 0.5 * accent);
}

/// What it costs that no tap is on the places between two.
static double cost_between(long from, long to)
{
  const long missing = to - from - 1;
  return missing > 0 ? MISSING + MISSING_NEXT * (double)(missing - 1) : 0.0;
}

static bool is_held(const Track *t, long from, long to)
{
  for (long place = from + 1; place <= to; place++) {
    if (is_within(t->places, place) && t->places->after_hold[place]) {
      return true;
    }
  }
  return false;
}

/// Consider that the tap is on `place`, the tempo having changed by about `change` a beat.
/// @param late Standard deviation, in beats, of how much later than in tempo it is.
static void take_from(Track *t, const Reading *r, int32_t index, double tap_s, long place, double change, double late,
                      double prior)
{
  const double beats = cw_tap_place_beats(t->places, place) - cw_tap_place_beats(t->places, r->place);
  const double wander = change * change * r->beat_s * r->beat_s * beats;
  const double at_s = r->at_s + beats * r->beat_s;
  const double at_var = r->at_var + 2.0 * beats * r->both + beats * beats * r->beat_var + wander * beats * beats / 3.0 +
                        late * late * r->beat_s * r->beat_s;
  const double both = r->both + beats * r->beat_var + 0.5 * wander * beats;
  const double beat_var = r->beat_var + wander;
  const double var = at_var + t->habit.spread_s * t->habit.spread_s;
  const double off_s = tap_s - at_s;
  const double gain = at_var / var;
  const double beat_gain = both / var;
  Reading *next = &t->next[t->n_next];
  *next = (Reading){.at_s = at_s + gain * off_s,
                    .beat_s = r->beat_s + beat_gain * off_s,
                    .at_var = (1.0 - gain) * at_var,
                    .both = (1.0 - gain) * both,
                    .beat_var = beat_var - beat_gain * both,
                    .place = place,
                    .before = index};
  if (next->beat_s < 0.02) {
    return;
  }
  const double interval_s = (tap_s - r->at_s) / beats;
  next->usual_s = r->usual_s * exp(USUAL_RATE * fmin(fmax(log(interval_s / r->usual_s), -1.0), 1.0));
  next->score = r->score + prior + cost_between(r->place, place) +
                seen_between(t, r->at_s, tap_s, place - r->place - 1) - 0.5 * off_s * off_s / var -
                0.5 * log(CW_TWO_PI * var) + worth_of(t, place, next->at_s);
  t->n_next++;
}

static void take_place(Track *t, int32_t index, double tap_s, long place, double change, double late, double prior)
{
  take_from(t, &t->kept[index], index, tap_s, place, change, late, prior);
}

/// Consider that music out of tempo lay before `place`.
static void take_after_hold(Track *t, int32_t index, double tap_s, long place)
{
  const Reading *r = &t->kept[index];
  const double spread_s = t->habit.spread_s;
  const double score = r->score + cost_between(r->place, place) - log(HELD_S) + worth_of(t, place, tap_s);
  const double beat_spread = FIRST_CHANGE * r->beat_s;
  t->next[t->n_next++] = (Reading){.at_s = tap_s,
                                   .beat_s = r->beat_s,
                                   .usual_s = r->usual_s,
                                   .at_var = spread_s * spread_s,
                                   .beat_var = beat_spread * beat_spread,
                                   .place = place,
                                   .before = index,
                                   .score = score};
}

/// Consider that the tap is on the next place, in a tempo of its own.
static void take_anew(Track *t, int32_t index, double tap_s)
{
  const Reading *r = &t->kept[index];
  const long place = r->place + 1;
  const double beats = cw_tap_place_beats(t->places, place) - cw_tap_place_beats(t->places, r->place);
  const double interval_s = tap_s - r->at_s;
  if (interval_s / beats < QUICKEST_S) {
    return;
  }
  const double spread_s = t->habit.spread_s;
  const double beat_spread = FIRST_CHANGE * interval_s / beats;
  const double score = r->score + log(ANEW * t->habit.jump / JUMP_WIDTH / interval_s) + worth_of(t, place, tap_s);
  t->next[t->n_next++] = (Reading){.at_s = tap_s,
                                   .beat_s = interval_s / beats,
                                   .usual_s = r->usual_s,
                                   .at_var = spread_s * spread_s,
                                   .beat_var = beat_spread * beat_spread,
                                   .place = place,
                                   .before = index,
                                   .score = score};
}

/// Consider that the tap is on the next place, and that the tempo is the usual one again.
static void take_usual(Track *t, int32_t index, double tap_s)
{
  const Reading *r = &t->kept[index];
  Reading again = *r;
  const double beat_spread = USUAL_CHANGE * r->usual_s;
  again.beat_s = r->usual_s;
  again.both = 0;
  again.beat_var = beat_spread * beat_spread;
  take_from(t, &again, index, tap_s, r->place + 1, t->habit.change, 0.0, log(AGAIN * t->habit.jump));
}

/// @param apart_s From the nearest other tap.
static void take_extra(Track *t, int32_t index, double apart_s)
{
  Reading *next = &t->next[t->n_next++];
  *next = t->kept[index];
  next->score += EXTRA + (apart_s < DOUBLE_S ? -log(2.0 * DOUBLE_S) : FAR_EXTRA - log(next->beat_s));
  next->before = index;
  next->extra = true;
}

/// All that a tap may be after one reading of those before it.
static void take_tap(Track *t, int32_t index, double tap_s, double apart_s)
{
  const Reading *r = &t->kept[index];
  const double passed = (tap_s - r->at_s) / r->beat_s;
  const long middle = nearest_place(t->places, cw_tap_place_beats(t->places, r->place) + passed);
  take_extra(t, index, apart_s);
  for (long place = middle - 1; place <= middle + 1; place++) {
    if (place > r->place) {
      take_place(t, index, tap_s, place, t->habit.change, 0.0, 0.0);
      take_place(t, index, tap_s, place, JUMP_CHANGE, 0.0, log(CHANGED * t->habit.jump));
      take_place(t, index, tap_s, place, t->habit.change, MUCH, log(LATE * t->habit.jump));
      take_place(t, index, tap_s, place, t->habit.change, LITTLE, log(DRAWN * t->habit.jump));
    }
  }
  take_anew(t, index, tap_s);
  take_usual(t, index, tap_s);
  for (long place = r->place + 1; place <= r->place + 2; place++) {
    if (is_held(t, r->place, place)) {
      take_after_hold(t, index, tap_s, place);
    }
  }
}

static int by_score(const void *a, const void *b)
{
  const Reading *left = a;
  const Reading *right = b;
  if (left->score != right->score) {
    return left->score > right->score ? -1 : 1;
  }
  return left->before < right->before ? -1 : left->before > right->before;
}

/// Keep the best readings, not too many with the same place.
static void keep_best(Track *t, size_t tap)
{
  qsort(t->next, t->n_next, sizeof *t->next, by_score);
  t->n_kept = 0;
  for (size_t i = 0; i < t->n_next && t->n_kept < KEPT; i++) {
    size_t alike = 0;
    for (size_t k = 0; k < t->n_kept; k++) {
      alike += t->kept[k].place == t->next[i].place;
    }
    if (alike < ALIKE) {
      Reading *kept = &t->kept[t->n_kept];
      *kept = t->next[i];
      t->before[tap * KEPT + t->n_kept] = kept->before;
      t->place[tap * KEPT + t->n_kept++] = kept->extra ? CW_EXTRA_TAP : kept->place;
      kept->extra = false;
    }
  }
  t->n_next = 0;
}

static int by_value(const void *a, const void *b)
{
  const double left = *(const double *)a;
  const double right = *(const double *)b;
  return (left > right) - (left < right);
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
  qsort(interval, n_intervals, sizeof *interval, by_value);
  return n_intervals > 0 ? interval[n_intervals / 2] : 0.5;
}

/// Readings of the first tap: wherever the notes may begin, or on no place.
static void begin(Track *t, const double *tap_s, size_t n)
{
  const double step_s = first_interval(tap_s, n);
  const double step = t->places->n > 1 ? cw_tap_place_beats(t->places, -1) : -1.0;
  const double beat_s = step_s / fabs(step - (t->places->n > 1 ? t->places->beats[0] : 0.0));
  const double spread_s = t->habit.spread_s;
  const long most = t->places->n > 0 ? (long)t->places->n - 1 : 0;
  for (long place = t->places->n > 0 ? -MOST_BEFORE : 0; place <= most && t->n_next < KEPT * OPTIONS; place++) {
    Reading *r = &t->next[t->n_next++];
    *r = (Reading){.at_s = tap_s[0],
                   .beat_s = beat_s,
                   .usual_s = beat_s,
                   .at_var = spread_s * spread_s,
                   .beat_var = FIRST_CHANGE * FIRST_CHANGE * beat_s * beat_s,
                   .place = place,
                   .before = -1};
    r->score = worth_of(t, place, tap_s[0]) + (place > 0 ? MISSING + MISSING_NEXT * (double)(place - 1) : 0.0);
  }
  keep_best(t, 0);
}

/// What a reading comes to at the end: places of the notes after the last tap cost a little.
static double total(const Track *t, const Reading *r)
{
  const long missing = (long)t->places->n_needed - 1 - r->place;
  return r->score + (t->places->n > 0 && missing > 0 ? MISSING + UNTAPPED * (double)(missing - 1) : 0.0);
}

/// Follow the best reading back. @return Its score.
static double trace(const Track *t, size_t n, long *place)
{
  size_t best = 0;
  for (size_t k = 1; k < t->n_kept; k++) {
    best = total(t, &t->kept[k]) > total(t, &t->kept[best]) ? k : best;
  }
  const double score = total(t, &t->kept[best]);
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
      take_tap(t, (int32_t)k, tap_s[tap], apart_s);
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
      {offsetof(CwTapHabit, change), 5, {0.02, 0.05, 0.1, 0.2, 0.35}},
      {offsetof(CwTapHabit, spread_s), 5, {0.012, 0.02, 0.035, 0.055, 0.085}},
      {offsetof(CwTapHabit, jump), 4, {0.01, 0.05, 0.15, 0.3}},
      {offsetof(CwTapHabit, change), 5, {0.02, 0.05, 0.1, 0.2, 0.35}},
  };
  double best = -INFINITY;
  for (size_t i = 0; i < sizeof trait / sizeof *trait; i++) {
    double *value = (double *)(void *)((char *)&t->habit + trait[i].offset);
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

CwStatus cw_taps_track(const double *tap_s, size_t n, const CwTapPlaces *places, const CwTapView *view,
                       CwTapHabit *habit, long *place)
{
  Track t = {.places = places, .view = view, .habit = {habit->delay_s, 0.035, 0.05, 0.01}};
  long *tried = cw_new(n, sizeof *tried);
  t.kept = cw_new(KEPT, sizeof *t.kept);
  t.next = cw_new((size_t)KEPT * OPTIONS, sizeof *t.next);
  t.before = cw_new(n * KEPT, sizeof *t.before);
  t.place = cw_new(n * KEPT, sizeof *t.place);
  t.usual = usual_sight(view);
  const bool good = tried && t.kept && t.next && t.before && t.place;
  if (good) {
    find_habit(&t, tap_s, n, tried, place);
    *habit = t.habit;
  }
  free(tried);
  free(t.kept);
  free(t.next);
  free(t.before);
  free(t.place);
  return good ? CW_OK : CW_ERR_NO_MEM;
}
