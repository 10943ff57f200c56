// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/time_map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/// The pace outside a segment is that of this long at its end.
static const double pace_s = 2.0;

/// Last point at or before `a_s`, but not the very last of the segment.
static size_t point_before(const CwMapSegment *segment, double a_s)
{
  size_t low = 0;
  size_t high = segment->n - 1;
  while (high - low > 1) {
    const size_t middle = low + (high - low) / 2;
    if (segment->point[middle].a_s <= a_s) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return low;
}

bool cw_map_segment_holds(const CwMapSegment *segment, double a_s)
{
  return segment->n >= 2 && a_s >= segment->point[0].a_s && a_s <= segment->point[segment->n - 1].a_s;
}

/// On the straight line through two points.
static double on_line(CwMapPoint left, CwMapPoint right, double a_s)
{
  return left.b_s + (a_s - left.a_s) * (right.b_s - left.b_s) / (right.a_s - left.a_s);
}

double cw_map_segment_at(const CwMapSegment *segment, double a_s)
{
  if (segment->n < 2) {
    return NAN;
  }
  const CwMapPoint *point = segment->point;
  const size_t last = segment->n - 1;
  if (a_s < point[0].a_s) {
    return on_line(point[0], point[point_before(segment, point[0].a_s + pace_s) + 1], a_s);
  }
  if (a_s > point[last].a_s) {
    return on_line(point[point_before(segment, point[last].a_s - pace_s)], point[last], a_s);
  }
  const size_t left = point_before(segment, a_s);
  return on_line(point[left], point[left + 1], a_s);
}

double cw_time_map_at(const CwTimeMap *map, double a_s)
{
  for (size_t s = 0; s < map->n_segments; s++) {
    if (cw_map_segment_holds(&map->segment[s], a_s)) {
      return cw_map_segment_at(&map->segment[s], a_s);
    }
  }
  return NAN;
}

double cw_map_segment_sure(const CwMapSegment *segment, double a_s)
{
  if (segment->n < 2 || !segment->sure) {
    return NAN;
  }
  const size_t left = point_before(segment, a_s);
  const CwMapPoint *point = segment->point + left;
  const double part = fmin(fmax((a_s - point[0].a_s) / (point[1].a_s - point[0].a_s), 0.0), 1.0);
  return segment->sure[left] + part * (segment->sure[left + 1] - segment->sure[left]);
}

double cw_time_map_sure(const CwTimeMap *map, double a_s)
{
  for (size_t s = 0; s < map->n_segments; s++) {
    if (cw_map_segment_holds(&map->segment[s], a_s)) {
      return cw_map_segment_sure(&map->segment[s], a_s);
    }
  }
  return NAN;
}

void cw_time_map_free(CwTimeMap *map)
{
  if (!map) {
    return;
  }
  for (size_t s = 0; s < map->n_segments; s++) {
    free(map->segment[s].point);
    free(map->segment[s].sure);
  }
  free(map->segment);
  memset(map, 0, sizeof *map);
}
