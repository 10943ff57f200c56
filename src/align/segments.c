// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/segments.h"

#include <math.h>
#include <stdlib.h>

#include "align/cost.h"
#include "base/memory.h"

/// Points of a segment are this far apart in a.
static const double point_s = 0.1;
/// Two times closer than this are one.
static const double same_s = 1e-4;

/// Jumps with less than this between in b are placed anew, up to so many frames to either side.
static const double adjoining_s = 2.0;
enum { PLACE_REACH = 75, PLACES = 2 * PLACE_REACH + 1 };
static const double fade_frames = 4.0;
static const float harmony_weight = 0.5F;

/// Before a jump a guide may rush through music that is not played any more: where it does so at more than `rush` times
/// its usual pace, in so many frames at its end, it is not believed.
enum { RUSH_REACH = 200, PACE_FRAMES = 250, RUSH_FRAMES = 25 };
static const double rush = 1.6;

/// The part of a that a guide is used for.
typedef struct {
  double from_s, to_s;
} Part;

static double frame_s(size_t frame)
{
  return (double)frame / CW_ALIGN_RATE_HZ;
}

/// Seconds of b to a frame of a, over `n` frames from `from` on.
static double pace_over(const CwGuide *guide, size_t from, size_t n)
{
  return (guide->b_s[from + n] - guide->b_s[from]) / (double)n;
}

/// Give up a rush at a guide's end. Beyond, it goes on at the pace that it has before.
static void calm_end(CwGuide *guide)
{
  if (guide->n < RUSH_REACH + PACE_FRAMES + RUSH_FRAMES) {
    return;
  }
  const double usual = pace_over(guide, guide->n - 1 - RUSH_REACH - PACE_FRAMES, PACE_FRAMES);
  size_t end = guide->n;
  for (size_t k = 0; k < RUSH_REACH; k++) {
    const size_t from = guide->n - 1 - RUSH_FRAMES - k;
    end = pace_over(guide, from, RUSH_FRAMES) < usual / rush ? from : end;
  }
  guide->n = end;
}

/// What it costs to take the music about `middle_s` of b for a's by this guide, frame by frame.
static CwStatus costs_about(const CwAlignFeatures *a, const CwFrames *b_frames, const CwGuide *guide, double middle_s,
                            float cost[PLACES])
{
  double a_s[PLACES];
  for (size_t k = 0; k < PLACES; k++) {
    a_s[k] = cw_guide_back(guide, middle_s + ((double)k - PLACE_REACH) / CW_ALIGN_RATE_HZ);
    if (k > 0 && a_s[k] < a_s[k - 1] + same_s) {
      a_s[k] = a_s[k - 1] + same_s;
    }
  }
  CwFrames a_frames;
  if (cw_frames_at(a, a_s, PLACES, 0, fade_frames, &a_frames)) {
    return CW_ERR_NO_MEM;
  }
  for (size_t k = 0; k < PLACES; k++) {
    cw_cost(&a_frames, k, b_frames, k, 1, harmony_weight, &cost[k]);
  }
  cw_frames_free(&a_frames);
  return CW_OK;
}

/// The frame from which on it is cheaper to follow `right`.
static size_t cheapest_place(const float left[PLACES], const float right[PLACES])
{
  double difference = 0; // of the cost so far, left less right
  double least = 0;
  size_t best = 0;
  for (size_t k = 0; k < PLACES; k++) {
    difference += (double)left[k] - (double)right[k];
    if (difference < least) {
      least = difference;
      best = k + 1;
    }
  }
  return best;
}

static CwStatus place_jump(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, CwGuide *guide,
                           Part *part)
{
  const double left_s = cw_guide_at(&guide[0], part[0].to_s);
  const double right_s = cw_guide_at(&guide[1], part[1].from_s);
  if (fabs(right_s - left_s) > adjoining_s) {
    return CW_OK;
  }
  const double middle_s = 0.5 * (left_s + right_s);
  calm_end(&guide[0]);
  double b_s[PLACES];
  for (size_t k = 0; k < PLACES; k++) {
    b_s[k] = middle_s + ((double)k - PLACE_REACH) / CW_ALIGN_RATE_HZ;
  }
  CwFrames b_frames;
  float left[PLACES];
  float right[PLACES];
  CwStatus status = cw_frames_at(b, b_s, PLACES, transpose, fade_frames, &b_frames);
  if (!status) {
    status = costs_about(a, &b_frames, &guide[0], middle_s, left);
  }
  if (!status) {
    status = costs_about(a, &b_frames, &guide[1], middle_s, right);
  }
  if (!status) {
    const double jump_s = middle_s + ((double)cheapest_place(left, right) - PLACE_REACH - 0.5) / CW_ALIGN_RATE_HZ;
    part[0].to_s = cw_guide_back(&guide[0], jump_s);
    part[1].from_s = cw_guide_back(&guide[1], jump_s);
  }
  cw_frames_free(&b_frames);
  return status;
}

/// Append a point where both times go up and lie within the recordings.
static void add_point(const CwTimeMap *map, double a_s, double b_s, CwMapSegment *segment)
{
  const CwMapPoint *last = segment->n ? &segment->point[segment->n - 1] : NULL;
  const bool inside = a_s >= 0 && b_s >= 0 && a_s <= map->a_duration_s && b_s <= map->b_duration_s;
  if (inside && (!last || (a_s >= last->a_s + same_s && b_s >= last->b_s + same_s))) {
    segment->point[segment->n++] = (CwMapPoint){a_s, b_s};
  }
}

static CwStatus fill_segment(const CwGuide *guide, Part part, CwTimeMap *map)
{
  CwMapSegment *segment = &map->segment[map->n_segments];
  const size_t steps = (size_t)fmax(1.0, ceil((part.to_s - part.from_s) / point_s));
  segment->point = cw_new(steps + 1, sizeof *segment->point);
  if (!segment->point) {
    return CW_ERR_NO_MEM;
  }
  for (size_t k = 0; k <= steps; k++) {
    const double a_s = part.from_s + (part.to_s - part.from_s) * (double)k / (double)steps;
    add_point(map, a_s, cw_guide_at(guide, a_s), segment);
  }
  if (segment->n < 2) { // nothing left of it
    free(segment->point);
    *segment = (CwMapSegment){0};
  } else {
    map->n_segments++;
  }
  return CW_OK;
}

CwStatus cw_segments_make(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, CwGuide *guide, size_t n,
                          CwTimeMap *map)
{
  Part *part = cw_new(n, sizeof *part);
  map->segment = cw_new(n, sizeof *map->segment);
  CwStatus status = part && map->segment ? CW_OK : CW_ERR_NO_MEM;
  for (size_t g = 0; g < n && !status; g++) {
    part[g] = (Part){frame_s(guide[g].first), frame_s(guide[g].first + guide[g].n - 1)};
    if (g > 0) {
      status = place_jump(a, b, transpose, &guide[g - 1], &part[g - 1]);
    }
  }
  for (size_t g = 0; g < n && !status; g++) {
    status = fill_segment(&guide[g], part[g], map);
  }
  free(part);
  return status;
}
