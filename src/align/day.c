// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/day.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "align/features.h"
#include "align/jumps.h"
#include "align/runs.h"
#include "align/sureness.h"
#include "base/memory.h"

/// Stretches nearer than this are one run, where the second goes on from the first; it may take up this much again.
static const double apart_s = 20.0;
static const double again_s = 3.0;
/// What is shorter is not told from chance.
static const double shortest_s = 8.0;
/// What is looked at on both sides of what the search found.
static const double around_s = 6.0;
/// An end that is less sure than that is let be when it is no longer: last chords are.
static const double trimmed_s = 3.0;

/// A stretch of the day, in seconds.
typedef struct {
  double begin_s, end_s;
} Place;

typedef struct {
  Place *place;
  size_t n, room;
} Places;

/// Gather what belongs to one run.
static CwStatus gather(const CwTrail *trail, const CwRuns *runs, double rate_hz, Places *places)
{
  double reached = 0; // frame of the dance
  for (size_t r = 0; r < runs->n; r++) {
    const CwRun run = runs->run[r];
    const double begin_s = (double)run.first / rate_hz;
    const bool goes_on = places->n > 0 && begin_s - places->place[places->n - 1].end_s < apart_s &&
                         trail->a[run.first] > reached - again_s * rate_hz;
    if (!goes_on) {
      if (!cw_grow(&places->place, &places->room, places->n, sizeof *places->place)) {
        return CW_ERR_NO_MEM;
      }
      places->place[places->n++].begin_s = begin_s;
    }
    places->place[places->n - 1].end_s = (double)run.end / rate_hz;
    reached = trail->a[run.end - 1];
  }
  return CW_OK;
}

/// Where the day may have the dance.
static CwStatus seek(const CwAlignFeatures *dance, const CwAlignFeatures *day, const CwReport *report, Places *places)
{
  const size_t step = cw_search_step(dance, day);
  const double rate_hz = (double)CW_ALIGN_RATE_HZ / (double)step;
  CwFrames a = {0};
  CwFrames b = {0};
  CwTrail trail = {0};
  CwRuns runs = {0};
  CwStatus status = cw_frames_thin(dance, step, 2, 0, CW_FADE_S, &a);
  if (!status) {
    status = cw_frames_thin(day, step, 2, 0, CW_FADE_S, &b);
  }
  if (!status) {
    status = cw_jumps_find(&a, &b, rate_hz, report, &trail);
  }
  if (!status) {
    status = cw_runs_find(&trail, a.n, rate_hz, &runs);
  }
  if (!status) {
    status = gather(&trail, &runs, rate_hz, places);
  }
  cw_frames_free(&a);
  cw_frames_free(&b);
  cw_trail_free(&trail);
  free(runs.run);
  return status;
}

static size_t frame_at(const CwAlignFeatures *features, double time_s)
{
  const double frame = fmax(0.0, time_s * CW_ALIGN_RATE_HZ);
  return frame < (double)features->n ? (size_t)frame : features->n;
}

/// Where a run stops early the map goes on for a while into what comes next, no surer than by chance: take that off.
static void trim(CwTimeMap *map)
{
  if (map->n_segments == 0) {
    return;
  }
  const double least = 0.5 * (CW_SURE_BY_CHANCE + fmax(cw_mean_sureness(map), CW_SURE_BY_CHANCE));
  CwMapSegment *end = &map->segment[map->n_segments - 1];
  size_t n = end->n;
  while (n > 2 && end->sure[n - 1] < least) {
    n--;
  }
  end->n = end->point[end->n - 1].b_s - end->point[n - 1].b_s > trimmed_s ? n : end->n;
  CwMapSegment *begin = &map->segment[0];
  size_t first = 0;
  while (first + 2 < begin->n && begin->sure[first] < least) {
    first++;
  }
  first = begin->point[first].b_s - begin->point[0].b_s > trimmed_s ? first : 0;
  begin->n -= first;
  memmove(begin->point, begin->point + first, begin->n * sizeof *begin->point);
  memmove(begin->sure, begin->sure + first, begin->n * sizeof *begin->sure);
}

/// Align the dance with a stretch of the day.
static CwStatus align_place(const CwAlignFeatures *dance, const CwAlignFeatures *day, Place place,
                            const CwReport *report, CwTimeMap *map)
{
  const size_t first = frame_at(day, place.begin_s);
  CwAlignFeatures *part = NULL;
  *map = (CwTimeMap){0};
  CwStatus status = cw_align_features_part(day, first, frame_at(day, place.end_s), &part);
  if (!status) {
    status = cw_align(dance, part, report, map);
  }
  for (size_t s = 0; s < map->n_segments && !status; s++) {
    for (size_t i = 0; i < map->segment[s].n; i++) {
      map->segment[s].point[i].b_s += (double)first / CW_ALIGN_RATE_HZ;
    }
  }
  map->b_duration_s = status ? 0.0 : day->duration_s;
  trim(map);
  cw_align_features_free(part);
  return status;
}

/// The middle half of the longest stretch: ends are not exact.
static double find_pace(const CwTimeMap *map)
{
  const CwMapSegment *longest = &map->segment[0];
  for (size_t s = 1; s < map->n_segments; s++) {
    longest = map->segment[s].n > longest->n ? &map->segment[s] : longest;
  }
  const CwMapPoint early = longest->point[longest->n / 4];
  const CwMapPoint late = longest->point[longest->n - 1 - longest->n / 4];
  return late.b_s > early.b_s ? (late.a_s - early.a_s) / (late.b_s - early.b_s) : 1.0;
}

/// What a map says of a run.
static CwDayRun describe(const CwTimeMap *map)
{
  CwDayRun run = {INFINITY, 0, INFINITY, 0, find_pace(map), cw_mean_sureness(map)};
  for (size_t s = 0; s < map->n_segments; s++) {
    const CwMapSegment *segment = &map->segment[s];
    const CwMapPoint last = segment->point[segment->n - 1];
    run.begin_s = fmin(run.begin_s, segment->point[0].b_s);
    run.end_s = fmax(run.end_s, last.b_s);
    run.from_s = fmin(run.from_s, segment->point[0].a_s);
    run.to_s = fmax(run.to_s, last.a_s);
  }
  return run;
}

/// The stretch to align about what was found: not into its neighbours.
static Place surroundings(const Places *places, size_t p, double duration_s)
{
  const Place *place = &places->place[p];
  const double before_s = p > 0 ? place[-1].end_s : 0.0;
  const double after_s = p + 1 < places->n ? place[1].begin_s : duration_s;
  return (Place){fmax(place->begin_s - around_s, before_s), fmin(place->end_s + around_s, after_s)};
}

/// Align what was found, and keep what is the same music.
static CwStatus confirm(const CwAlignFeatures *dance, const CwAlignFeatures *day, const Places *places,
                        const CwReport *report, CwDayRuns *runs)
{
  size_t room = 0;
  CwStatus status = CW_OK;
  for (size_t p = 0; p < places->n && !status; p++) {
    if (places->place[p].end_s - places->place[p].begin_s < shortest_s) {
      continue;
    }
    CwTimeMap map;
    status = align_place(dance, day, surroundings(places, p, day->duration_s), report, &map);
    if (!status) {
      status = cw_grow(&runs->run, &room, runs->n, sizeof *runs->run) ? CW_OK : CW_ERR_NO_MEM;
    } else if (status == CW_ERR_OTHER_MUSIC) {
      status = CW_OK;
      continue;
    }
    if (!status) {
      runs->run[runs->n++] = describe(&map);
    }
    cw_time_map_free(&map);
  }
  return status;
}

CwStatus cw_day_search(const CwAlignFeatures *dance, const CwAlignFeatures *day, const CwReport *report,
                       CwDayRuns *runs)
{
  Places places = {0};
  *runs = (CwDayRuns){0};
  CwStatus status = seek(dance, day, report, &places);
  if (!status) {
    status = confirm(dance, day, &places, report, runs);
  }
  free(places.place);
  if (status) {
    cw_day_runs_free(runs);
  }
  return status;
}

CwStatus cw_day_align(const CwAlignFeatures *dance, const CwAlignFeatures *day, const CwDayRun *run,
                      const CwReport *report, CwTimeMap *map)
{
  return align_place(dance, day, (Place){run->begin_s - around_s, run->end_s + around_s}, report, map);
}

void cw_day_runs_free(CwDayRuns *runs)
{
  if (runs) {
    free(runs->run);
    *runs = (CwDayRuns){0};
  }
}
