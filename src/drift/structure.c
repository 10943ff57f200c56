// SPDX-License-Identifier: GPL-3.0-or-later
// What b leaves out, repeats or puts between.
#include <math.h>
#include <stdio.h>

#include "base/format.h"
#include "countwright/time_text.h"
#include "drift/words.h"

/// Shorter parts are not worth a sentence: the place of a jump is known to a few tenths of a second.
static const double shortest_s = 1.5;

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

/// "the second recording VERB phrases 12-15 (1:20.3 to 1:45.0TAIL)", or without phrases where none is hit.
static CwStatus say(const CwDrift *drift, const char *verb, double from_s, double to_s, const char *tail,
                    CwMessages *messages)
{
  size_t first = 0;
  size_t last = 0;
  char phrases[CW_WORDS];
  char span[CW_WORDS];
  if (!rows_between(drift, from_s, to_s, &first, &last)) {
    cw_drift_span(from_s, to_s, span);
    return cw_messages_add(messages, "the second recording %s %s%s", verb, span, tail);
  }
  cw_drift_phrases(drift, first, last, phrases);
  cw_drift_span(drift->row[first].a_start_s, drift->row[last].a_end_s, span);
  return cw_messages_add(messages, "the second recording %s %s (%s%s)", verb, phrases, span, tail);
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

/// Silence before the first and after the last phrase is no music left out.
static double music_start(const CwDrift *drift)
{
  return drift->n ? drift->row[0].a_start_s : 0.0;
}

static double music_end(const CwDrift *drift, const CwTimeMap *map)
{
  return drift->n ? drift->row[drift->n - 1].a_end_s : map->a_duration_s;
}

static CwStatus say_cuts(const CwDrift *drift, const CwTimeMap *map, CwMessages *messages)
{
  double at_s = music_start(drift);
  while (at_s < music_end(drift, map)) {
    const double from_s = at_s;
    const double next_s = fmin(next_held(map, from_s), music_end(drift, map));
    if (next_s - from_s >= shortest_s && say(drift, "leaves out", from_s, next_s, "", messages)) {
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

static CwStatus say_repeats(const CwDrift *drift, const CwTimeMap *map, CwMessages *messages)
{
  for (size_t s = 1; s < map->n_segments; s++) {
    for (size_t earlier = 0; earlier < s; earlier++) {
      const CwMapSegment *again = &map->segment[s];
      const double from_s = fmax(segment_start(again), segment_start(&map->segment[earlier]));
      const double to_s = fmin(segment_end(again), segment_end(&map->segment[earlier]));
      if (to_s - from_s < shortest_s) {
        continue;
      }
      char time[24];
      char tail[CW_WORDS];
      cw_format_time(again->point[0].b_s, time);
      snprintf(tail, sizeof tail, ", again at %s of the second", time);
      if (say(drift, "repeats", from_s, to_s, tail, messages)) {
        return CW_ERR_NO_MEM;
      }
      break;
    }
  }
  return CW_OK;
}

static CwStatus say_insertions(const CwTimeMap *map, CwMessages *messages)
{
  for (size_t s = 1; s < map->n_segments; s++) {
    const CwMapSegment *before = &map->segment[s - 1];
    const double from_s = before->point[before->n - 1].b_s;
    const double to_s = map->segment[s].point[0].b_s;
    if (to_s - from_s >= shortest_s) {
      char length[32];
      char span[CW_WORDS];
      cw_drift_span(from_s, to_s, span);
      cw_format_fixed(length, sizeof length, to_s - from_s, 1);
      if (cw_messages_add(messages, "the second recording has %s s that the first lacks (%s of the second)", length,
                          span)) {
        return CW_ERR_NO_MEM;
      }
    }
  }
  return CW_OK;
}

CwStatus cw_drift_say_structure(const CwDrift *drift, const CwTimeMap *map, CwMessages *messages)
{
  CwStatus status = say_cuts(drift, map, messages);
  if (!status) {
    status = say_repeats(drift, map, messages);
  }
  return status ? status : say_insertions(map, messages);
}
