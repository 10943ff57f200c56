// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/reading.h"

#include <math.h>

// Probabilities, as their logarithms. The greater part was fitted, one after the other, on our own music with made taps.
#define ON_PLACE (-0.05)    // of a tap that should be there
#define MISSING (-3.6)      // of one that is not (3 %) ...
#define MISSING_NEXT (-4.4) // ... and of the next one then missing too
#define UNENDED (-6.0)      // that taps end before the notes do ...
#define UNTAPPED (-1.0)     // ... and of each place more without a tap, up to ...
#define MANY 6.0            // ... as many
#define PICK_UP (-4.5)      // of a tap before the notes begin, within a bar ...
#define PICK_UP_NEXT (-0.8) // ... and of each more ...
#define BESIDE (-10.0)      // ... of taps farther before them or after their end ...
#define BESIDE_NEXT (-4.0)  // ... and of each more, up to as many
#define LATE_BEGIN (-3.0)   // of music before the notes begin ...
#define LATE_BEATS 0.4      // ... more than so many beats
#define EXTRA (-4.5)        // of a tap on no place (1 %) ...
#define FAR_EXTRA (-4.8)    // ... and that it is far from any other
#define DOUBLE_S 0.2        // double taps are so near each other
#define JUMP_CHANGE 0.5     // ln(tempo)
#define JUMP_WIDTH 4.0      // ln of the slowest tempo over the quickest, for one that begins anew
#define FIRST_CHANGE 0.3
#define DRAWN 0.4   // how often, for its share of the jumps, a beat is drawn out, in the same tempo, by a little ...
#define LITTLE 0.15 // ... by up to about so many beats ...
#define LATE 0.5    // ... or by much, by about so many ...
#define MUCH 0.7
#define MUCH_SPREAD 0.4
#define CHANGED 0.2 // ... these change the tempo by much ...
#define ANEW 0.16   // ... and these begin another
#define AGAIN 0.32  // ... or the usual one again
#define USUAL_CHANGE 0.2
#define USUAL_RATE 0.1
#define QUICKEST_S 0.1
#define SLIGHTEST_S 0.02
#define ON_WEIGHT 0.5
#define MISSED_WEIGHT 0.5       // of what the music says where no tap is ...
#define MISSED_WEIGHT_NOTED 1.0 // ... where notes say how many places there are
#define ACCENT_WEIGHT 0.5
#define HELD_S 10.0 // a hold is about so long
#define PIN_SPREAD_S 0.15
#define PIN_MOST 40.0

/// What music and pins say of a tap on a place.
static double worth_of(const CwTapBelief *b, long place, double at_s)
{
  const double here_s = at_s - b->habit.delay_s;
  const double seen = ON_PLACE + ON_WEIGHT * cw_tap_sign_of_beat(b->signs, here_s);
  if (b->places->n == 0) {
    return seen;
  }
  const double accent = cw_tap_sign_of_accent(b->signs, here_s);
  const double usual = (double)cw_tap_place_accent(b->places, place);
  const double worth = isnan(accent) ? seen : seen + ACCENT_WEIGHT * usual * (accent - 0.5 * usual);
  if (!cw_tap_place_is_noted(b->places, place)) {
    return worth;
  }
  const double off = (here_s - b->places->pin_s[place]) / PIN_SPREAD_S;
  return isnan(off) ? worth : worth - fmin(0.5 * off * off, PIN_MOST);
}

/// What it is worth that no tap is on the places between two.
static double worth_between(const CwTapBelief *b, const CwTapReading *r, long place, double tap_s)
{
  const long missing = place - r->place - 1;
  const double weight = b->places->n > 0 ? MISSED_WEIGHT_NOTED : MISSED_WEIGHT;
  double sum = missing > 0 ? MISSING + MISSING_NEXT * (double)(missing - 1) : 0.0;
  for (long i = 1; i <= missing; i++) {
    const double share = (double)i / (double)(missing + 1);
    sum += weight * cw_tap_sign_of_beat(b->signs, r->at_s + share * (tap_s - r->at_s) - b->habit.delay_s);
  }
  return sum;
}

/// Consider that the tap is on `place`, the tempo having changed by about `change` a beat.
/// @param late,spread How much later than in tempo it is, in beats, and the standard deviation of that.
/// @return Whether that may be.
static bool take_place(const CwTapBelief *b, const CwTapReading *r, double tap_s, long place, double change,
                       double late, double spread, double prior, CwTapReading *next)
{
  const double beats = cw_tap_place_beats(b->places, place) - cw_tap_place_beats(b->places, r->place);
  const double wander = change * change * r->beat_s * r->beat_s * beats;
  const double at_s = r->at_s + (beats + late) * r->beat_s;
  const double at_var = r->at_var + 2.0 * beats * r->both + beats * beats * r->beat_var + wander * beats * beats / 3.0 +
                        spread * spread * r->beat_s * r->beat_s;
  const double both = r->both + beats * r->beat_var + 0.5 * wander * beats;
  const double beat_var = r->beat_var + wander;
  const double var = at_var + b->habit.spread_s * b->habit.spread_s;
  const double off_s = tap_s - at_s;
  const double gain = at_var / var;
  const double beat_gain = both / var;
  const double interval_s = (tap_s - r->at_s) / beats;
  *next = *r;
  next->at_s = at_s + gain * off_s;
  next->beat_s = r->beat_s + beat_gain * off_s;
  next->at_var = (1.0 - gain) * at_var;
  next->both = (1.0 - gain) * both;
  next->beat_var = beat_var - beat_gain * both;
  next->place = place;
  next->usual_s = r->usual_s * exp(USUAL_RATE * fmin(fmax(log(interval_s / r->usual_s), -1.0), 1.0));
  next->score = r->score + prior - 0.5 * off_s * off_s / var - 0.5 * log(CW_TWO_PI * var);
  return next->beat_s >= SLIGHTEST_S;
}

/// Consider that the tap is on `place` and that nothing is known of the tempo but `beat_s`.
static void take_afresh(const CwTapBelief *b, const CwTapReading *r, double tap_s, long place, double beat_s,
                        double prior, CwTapReading *next)
{
  *next = *r;
  next->at_s = tap_s;
  next->beat_s = beat_s;
  next->at_var = b->habit.spread_s * b->habit.spread_s;
  next->both = 0;
  next->beat_var = FIRST_CHANGE * FIRST_CHANGE * beat_s * beat_s;
  next->place = place;
  next->score = r->score + prior;
}

/// Consider that the tap is on the next place, in a tempo of its own, or in the usual one again. @return How many.
static size_t take_next(const CwTapBelief *b, const CwTapReading *r, double tap_s, CwTapReading *next)
{
  const long place = r->place + 1;
  const double beats = cw_tap_place_beats(b->places, place) - cw_tap_place_beats(b->places, r->place);
  const double interval_s = tap_s - r->at_s;
  size_t n = 0;
  if (interval_s / beats >= QUICKEST_S) {
    const double prior = log(ANEW * b->habit.jump / JUMP_WIDTH / interval_s);
    take_afresh(b, r, tap_s, place, interval_s / beats, prior, &next[n++]);
  }
  CwTapReading again = *r;
  again.beat_s = r->usual_s;
  again.both = 0;
  again.beat_var = USUAL_CHANGE * USUAL_CHANGE * r->usual_s * r->usual_s;
  n += take_place(b, &again, tap_s, place, b->habit.change, 0.0, 0.0, log(AGAIN * b->habit.jump), &next[n]);
  return n;
}

/// Consider that the tap is on `place`, in all ways that tempo may have gone. @return How many.
static size_t take_ways(const CwTapBelief *b, const CwTapReading *r, double tap_s, long place, CwTapReading *next)
{
  const double jump = b->habit.jump;
  const double change = b->habit.change;
  size_t n = take_place(b, r, tap_s, place, change, 0.0, 0.0, log1p(-jump), &next[0]);
  n += take_place(b, r, tap_s, place, JUMP_CHANGE, 0.0, 0.0, log(CHANGED * jump), &next[n]);
  n += take_place(b, r, tap_s, place, change, MUCH, MUCH_SPREAD, log(LATE * jump), &next[n]);
  n += take_place(b, r, tap_s, place, change, 0.0, LITTLE, log(DRAWN * jump), &next[n]);
  return n;
}

static CwTapReading take_extra(const CwTapReading *r, double apart_s)
{
  CwTapReading next = *r;
  next.score += EXTRA + (apart_s < DOUBLE_S ? -log(2.0 * DOUBLE_S) : FAR_EXTRA - log(r->beat_s));
  next.extra = true;
  return next;
}

size_t cw_tap_reading_go_on(const CwTapBelief *b, const CwTapReading *r, int32_t index, double tap_s, double apart_s,
                            CwTapReading *next)
{
  const double passed = (tap_s - r->at_s) / r->beat_s;
  const long middle = cw_tap_place_at(b->places, cw_tap_place_beats(b->places, r->place) + passed);
  size_t n = 0;
  for (long place = middle - 1; place <= middle + 1; place++) {
    n += place > r->place ? take_ways(b, r, tap_s, place, &next[n]) : 0;
  }
  n += take_next(b, r, tap_s, &next[n]);
  for (long place = r->place + 1; place <= r->place + 2; place++) {
    if (cw_tap_place_is_held(b->places, r->place, place)) {
      take_afresh(b, r, tap_s, place, r->beat_s, -log(HELD_S), &next[n++]);
    }
  }
  for (size_t i = 0; i < n; i++) {
    next[i].before = index;
    next[i].extra = false;
    next[i].score += worth_between(b, r, next[i].place, tap_s) + worth_of(b, next[i].place, next[i].at_s);
  }
  next[n] = take_extra(r, apart_s);
  next[n++].before = index;
  return n;
}

/// What it is worth that the first places of the notes, or the last, have no tap.
static double worth_of_untapped(long n)
{
  return n > 0 ? UNENDED + UNTAPPED * fmin((double)(n - 1), MANY) : 0.0;
}

/// What it is worth that a tap is a bar or more before the notes' places or after them, `more` places beyond the first
/// such place. Whoever taps on and on after the notes end does so with the music.
static double worth_beside(long more)
{
  return BESIDE + BESIDE_NEXT * fmin((double)more, MANY);
}

/// What it is worth that the notes begin where they do: mostly the music does so too.
static double worth_of_begin(const CwTapBelief *b, long place, double at_s, double beat_s)
{
  const double beats = cw_tap_place_beats(b->places, place) - cw_tap_place_beats(b->places, 0);
  const double late_s = at_s - b->habit.delay_s - beats * beat_s - b->places->begin_s;
  return late_s > LATE_BEATS * beat_s ? LATE_BEGIN : 0.0; // not late where nothing is known
}

/// Where the first tap may be, beforehand.
static double worth_of_first(const CwTapPlaces *places, long place)
{
  const long before = -place;
  const long beside = before - (long)places->bar;
  if (places->n == 0 || place == 0) {
    return 0.0;
  }
  if (place > 0) {
    return worth_of_untapped(place);
  }
  return beside < 0 ? PICK_UP + PICK_UP_NEXT * (double)(before - 1) : worth_beside(beside);
}

CwTapReading cw_tap_reading_first(const CwTapBelief *b, double tap_s, double beat_s, long place)
{
  CwTapReading r = {.usual_s = beat_s, .before = -1};
  const double begun = worth_of_first(b->places, place) + worth_of_begin(b, place, tap_s, beat_s);
  take_afresh(b, &r, tap_s, place, beat_s, begun + worth_of(b, place, tap_s), &r);
  return r;
}

double cw_tap_reading_total(const CwTapBelief *b, const CwTapReading *r)
{
  const long untapped = (long)b->places->n_needed - 1 - r->place;
  const long beside = r->place - (long)b->places->n;
  if (b->places->n == 0) {
    return r->score;
  }
  return r->score + worth_of_untapped(untapped) + (beside >= 0 ? worth_beside(beside) : 0.0);
}
