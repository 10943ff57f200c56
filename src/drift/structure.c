// SPDX-License-Identifier: GPL-3.0-or-later
// What another recording leaves out, repeats, starts again or puts between.
#include <math.h>
#include <stdio.h>

#include "base/format.h"
#include "countwright/time_text.h"
#include "drift/words.h"

/// Shorter parts are not worth a sentence: the place of a jump is known to a few tenths of a second.
static const double shortest_s = 1.5;

/// So much before the music begins, or after it ends, is worth a sentence.
static const double shortest_margin_s = 4.0;

/// A jump back that leaves a phrase with more than this share of it still to come is no repeat: the playing broke off.
static const double broken_off_share = 0.15;

/// What is being told.
typedef struct {
  const CwDriftTable *table;
  const CwDrift *drift;
  const CwTimeMap *map;
  const char *first_name; ///< of the first recording
  const char *name;       ///< of the other
  CwMessages *messages;
} Teller;

static double segment_start(const CwMapSegment *segment)
{
  return segment->point[0].a_s;
}

static double segment_end(const CwMapSegment *segment)
{
  return segment->point[segment->n - 1].a_s;
}

/// Rows that lie for the greater part between two times of a. @return false when there is none.
static bool rows_between(const CwDrift *drift, double from_s, double to_s, size_t *first, size_t *last)
{
  bool found = false;
  for (size_t i = 0; i < drift->n; i++) {
    const CwDriftRow *row = &drift->row[i];
    const double shared = fmin(row->a_end_s, to_s) - fmax(row->a_start_s, from_s);
    if (shared > 0.5 * (row->a_end_s - row->a_start_s)) {
      *first = found ? *first : i;
      *last = i;
      found = true;
    }
  }
  return found;
}

/// "b.wav VERB phrases 12-15 (1:20.3 to 1:45.0)TAIL", or without phrases where none is hit.
static CwStatus say(const Teller *teller, const char *verb, double from_s, double to_s, const char *tail)
{
  size_t first = 0;
  size_t last = 0;
  char place[CW_WORDS];
  if (rows_between(teller->drift, from_s, to_s, &first, &last)) {
    cw_drift_place(teller->table, first, last, place);
  } else {
    cw_drift_span(from_s, to_s, place);
  }
  return cw_messages_add(teller->messages, "%s %s %s%s", teller->name, verb, place, tail);
}

/// The first time from `from_s` on that some segment holds; `map->a_duration_s` when there is none.
static double next_held(const CwTimeMap *map, double from_s)
{
  double next_s = map->a_duration_s;
  for (size_t s = 0; s < map->n_segments; s++) {
    if (segment_end(&map->segment[s]) > from_s) {
      next_s = fmin(next_s, fmax(from_s, segment_start(&map->segment[s])));
    }
  }
  return next_s;
}

/// The end of the segments that hold `from_s`.
static double held_until(const CwTimeMap *map, double from_s)
{
  double end_s = from_s;
  for (size_t s = 0; s < map->n_segments; s++) {
    if (segment_start(&map->segment[s]) <= end_s) {
      end_s = fmax(end_s, segment_end(&map->segment[s]));
    }
  }
  return end_s;
}

/// What is told of lies between these times of a: silence before the first and after the last phrase is no music left
/// out.
static double music_start(const CwDrift *drift)
{
  return drift->n ? drift->row[0].a_start_s : 0.0;
}

static double music_end(const CwDrift *drift, const CwTimeMap *map)
{
  return drift->n ? drift->row[drift->n - 1].a_end_s : map->a_duration_s;
}

static CwStatus say_cuts(const Teller *teller)
{
  const CwTimeMap *map = teller->map;
  double at_s = music_start(teller->drift);
  while (at_s < music_end(teller->drift, map)) {
    const double from_s = at_s;
    const double next_s = fmin(next_held(map, from_s), music_end(teller->drift, map));
    if (next_s - from_s >= shortest_s && say(teller, "leaves out", from_s, next_s, "")) {
      return CW_ERR_NO_MEM;
    }
    const double end_s = held_until(map, next_s);
    if (end_s <= next_s) {
      return CW_OK; // nothing more is held
    }
    at_s = end_s;
  }
  return CW_OK;
}

/// "phrase 4, count 3"; without the count where it is the one. Before the first phrase: "the beginning".
static void format_place(const CwDrift *drift, double a_s, char out[CW_WORDS])
{
  const CwDriftRow *row = NULL;
  for (size_t i = 0; i < drift->n; i++) {
    // half a count early still belongs to the one
    const double count_s = (drift->row[i].a_end_s - drift->row[i].a_start_s) / drift->row[i].counts;
    row = a_s >= drift->row[i].a_start_s - count_s ? &drift->row[i] : row;
  }
  if (!row) {
    snprintf(out, CW_WORDS, "the beginning");
    return;
  }
  const double count_s = (row->a_end_s - row->a_start_s) / row->counts;
  const double count = 1 + fmin(floor((a_s - row->a_start_s) / count_s + 0.5), row->counts - 1.0);
  if (count < 2) {
    snprintf(out, CW_WORDS, "phrase %u", row->number);
  } else {
    snprintf(out, CW_WORDS, "phrase %u, count %.0f", row->number, count);
  }
}

/// Whether a time lies well inside a phrase.
static bool is_inside(const CwDrift *drift, double a_s)
{
  for (size_t i = 0; i < drift->n; i++) {
    const CwDriftRow *row = &drift->row[i];
    const double slack_s = broken_off_share * (row->a_end_s - row->a_start_s);
    if (a_s > row->a_start_s + slack_s && a_s < row->a_end_s - slack_s) {
      return true;
    }
  }
  return false;
}

/// Whether a time is one of those that are told of.
static bool is_told(const Teller *teller, double a_s)
{
  return a_s >= music_start(teller->drift) - shortest_s && a_s <= music_end(teller->drift, teller->map) + shortest_s;
}

/// "b.wav breaks off at 0:41.2 of it, in phrase 4, count 3, and starts again at 0:47.0 from phrase 2".
static CwStatus say_restart(const Teller *teller, CwMapPoint end, CwMapPoint start)
{
  char off[24];
  char on[24];
  char off_place[CW_WORDS];
  char on_place[CW_WORDS];
  cw_format_time(end.b_s, off);
  cw_format_time(start.b_s, on);
  format_place(teller->drift, end.a_s, off_place);
  format_place(teller->drift, start.a_s, on_place);
  return cw_messages_add(teller->messages, "%s breaks off at its %s in %s and starts again at its %s from %s",
                         teller->name, off, off_place, on, on_place);
}

/// "b.wav has 8.0 s more between phrases 8 and 9 ..." @param end, start Of the segments before and after.
static CwStatus say_insertion(const Teller *teller, CwMapPoint end, CwMapPoint start)
{
  char length[32];
  char span[CW_WORDS];
  char place[CW_WORDS];
  cw_drift_span(end.b_s, start.b_s, span);
  cw_format_fixed(length, sizeof length, start.b_s - end.b_s, 1);
  format_place(teller->drift, start.a_s, place);
  return cw_messages_add(teller->messages, "%s waits or plays something else for %s s before %s (its %s)", teller->name,
                         length, place, span);
}

static CwStatus say_repeat(const Teller *teller, CwMapPoint end, CwMapPoint start)
{
  char time[24];
  char tail[CW_WORDS];
  cw_format_time(start.b_s, time);
  snprintf(tail, sizeof tail, ", again at its %s", time);
  return say(teller, "repeats", start.a_s, end.a_s, tail);
}

/// Tell of the jump before segment `s`.
static CwStatus say_jump(const Teller *teller, size_t s)
{
  const CwMapSegment *before = &teller->map->segment[s - 1];
  const CwMapPoint end = before->point[before->n - 1];
  const CwMapPoint start = teller->map->segment[s].point[0];
  const bool waits = start.b_s - end.b_s >= shortest_s;
  const bool back = end.a_s - start.a_s >= shortest_s;
  if (!is_told(teller, end.a_s) && !is_told(teller, start.a_s)) {
    return CW_OK;
  }
  if (back) {
    return waits || is_inside(teller->drift, end.a_s) ? say_restart(teller, end, start)
                                                      : say_repeat(teller, end, start);
  }
  return waits ? say_insertion(teller, end, start) : CW_OK; // what is left out is told of with the cuts
}

/// Music of a that comes again later than right after itself.
static CwStatus say_late_repeat(const Teller *teller, size_t s)
{
  const CwMapSegment *again = &teller->map->segment[s];
  const CwMapSegment *before = &teller->map->segment[s - 1];
  if (segment_end(before) - segment_start(again) >= shortest_s) {
    return CW_OK; // told of as a jump back
  }
  for (size_t earlier = 0; earlier + 1 < s; earlier++) {
    const double from_s = fmax(segment_start(again), segment_start(&teller->map->segment[earlier]));
    const double to_s = fmin(segment_end(again), segment_end(&teller->map->segment[earlier]));
    if (to_s - from_s >= shortest_s) {
      return say_repeat(teller, (CwMapPoint){to_s, 0}, (CwMapPoint){from_s, again->point[0].b_s});
    }
  }
  return CW_OK;
}

/// What lies before the music and after it.
static CwStatus say_margins(const Teller *teller)
{
  const CwTimeMap *map = teller->map;
  if (map->n_segments == 0) {
    return CW_OK;
  }
  const CwMapSegment *last = &map->segment[map->n_segments - 1];
  const double before_s = map->segment[0].point[0].b_s - segment_start(&map->segment[0]);
  const double after_s = (map->b_duration_s - last->point[last->n - 1].b_s) - (map->a_duration_s - segment_end(last));
  const bool begins = segment_start(&map->segment[0]) <= music_start(teller->drift) + shortest_s;
  const bool ends = segment_end(last) >= music_end(teller->drift, map) - shortest_s;
  char time[24];
  CwStatus status = CW_OK;
  if (begins && before_s >= shortest_margin_s) {
    cw_format_time(map->segment[0].point[0].b_s, time);
    status = cw_messages_add(teller->messages, "the music of %s begins at its %s", teller->name, time);
  }
  if (!status && ends && after_s >= shortest_margin_s) {
    cw_format_time(last->point[last->n - 1].b_s, time);
    status = cw_messages_add(teller->messages, "the music of %s ends at its %s", teller->name, time);
  }
  return status;
}

CwStatus cw_drift_say_structure(const CwDriftTable *table, const CwDriftOther *other, CwMessages *messages)
{
  const Teller teller = {table,   &other->drift, other->map, cw_drift_first_name(table), cw_drift_other_name(other),
                         messages};
  CwStatus status = say_margins(&teller);
  if (!status) {
    status = say_cuts(&teller);
  }
  for (size_t s = 1; s < other->map->n_segments && !status; s++) {
    status = say_jump(&teller, s);
    if (!status) {
      status = say_late_repeat(&teller, s);
    }
  }
  return status;
}

CwStatus cw_drift_structure(const CwDriftTable *table, CwMessages *messages)
{
  CwStatus status = CW_OK;
  for (size_t o = 0; o < table->n && !status; o++) {
    status = table->other[o].map ? cw_drift_say_structure(table, &table->other[o], messages) : CW_OK;
  }
  return status;
}
