// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/align.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "align/features.h"
#include "align/jumps.h"
#include "align/runs.h"
#include "align/trace.h"
#include "base/memory.h"

/// Recordings of other music gather less than this of what a perfect match would; see jumps.h.
static const double enough_gain = 0.3;

/// Frames at 50 Hz to one of the search for jumps; the more, the longer the recordings.
static size_t search_step(const CwAlignFeatures *a, const CwAlignFeatures *b)
{
  const double most_cells = 6e8;
  size_t step = 10;
  while ((double)a->n * (double)b->n / (double)(step * step) > most_cells) {
    step *= 2;
  }
  return step;
}

/// The search that fits best.
typedef struct {
  size_t step;
  int transpose;
  CwTrail trail;
} Found;

static CwStatus search(const CwFrames *a, const CwAlignFeatures *b, int transpose, const CwReport *report, Found *found)
{
  CwFrames b_frames = {0};
  CwTrail trail = {0};
  CwStatus status = cw_frames_make(b, found->step, 2, transpose, &b_frames);
  if (!status) {
    status = cw_jumps_find(a, &b_frames, report, &trail);
  }
  cw_frames_free(&b_frames);
  if (!status && (!found->trail.a || trail.gain > found->trail.gain)) {
    cw_trail_free(&found->trail);
    found->trail = trail;
    found->transpose = transpose;
  } else {
    cw_trail_free(&trail);
  }
  return status;
}

/// Search as tuned; where that finds little, a semitone or two away: tunings on either side of a quarter tone are taken
/// for a semitone's difference, and recordings are played at the wrong speed.
static CwStatus search_all(const CwAlignFeatures *a, const CwAlignFeatures *b, const CwReport *report, Found *found)
{
  static const int transpositions[] = {0, 1, -1, 2, -2};
  CwFrames a_frames = {0};
  CwStatus status = cw_frames_make(a, found->step, 2, 0, &a_frames);
  for (size_t t = 0; t < 5 && !status; t++) {
    status = search(&a_frames, b, transpositions[t], report, found);
    if (!status && found->trail.gain >= enough_gain) {
      break;
    }
  }
  cw_frames_free(&a_frames);
  if (!status && found->trail.gain < enough_gain) {
    status = CW_ERR_OTHER_MUSIC;
  }
  return status;
}

/// Frames of a path that are averaged, to each side: what is left of the frames' grid is smoothed away.
enum { SMOOTH_REACH = 8, POINT_EVERY = 5 };

static CwMapPoint mean_about(const CwWarpPath *path, size_t c)
{
  size_t reach = SMOOTH_REACH;
  reach = c < reach ? c : reach;
  reach = path->n - 1 - c < reach ? path->n - 1 - c : reach;
  double a = 0;
  double b = 0;
  for (size_t k = c - reach; k <= c + reach; k++) {
    a += (double)path->cell[k].a;
    b += (double)path->cell[k].b;
  }
  const double scale = 1.0 / (double)(2 * reach + 1) / CW_ALIGN_RATE_HZ;
  return (CwMapPoint){a * scale, b * scale};
}

static CwStatus make_segment(const CwWarpPath *path, CwMapSegment *segment)
{
  segment->point = cw_new(path->n / POINT_EVERY + 2, sizeof *segment->point);
  if (!segment->point) {
    return CW_ERR_NO_MEM;
  }
  for (size_t c = 0; c < path->n; c++) {
    if (c % POINT_EVERY != 0 && c + 1 != path->n) {
      continue;
    }
    const CwMapPoint point = mean_about(path, c);
    const CwMapPoint *last = segment->n ? &segment->point[segment->n - 1] : NULL;
    if (!last || (point.a_s > last->a_s && point.b_s > last->b_s)) {
      segment->point[segment->n++] = point;
    }
  }
  return CW_OK;
}

static CwStatus fill_map(const CwScales *scales, const CwTrail *trail, const CwRuns *runs, size_t step,
                         const CwReport *report, CwTimeMap *map)
{
  map->segment = cw_new(runs->n, sizeof *map->segment);
  if (!map->segment) {
    return CW_ERR_NO_MEM;
  }
  for (size_t r = 0; r < runs->n; r++) {
    CwWarpPath path = {0};
    CwStatus status = cw_report_progress(report, "aligning", (double)r / (double)runs->n);
    if (!status) {
      status = cw_trace_run(scales, trail, runs->run[r], step, &path);
    }
    if (!status) {
      status = make_segment(&path, &map->segment[map->n_segments++]);
    }
    free(path.cell);
    if (status) {
      return status;
    }
  }
  return CW_OK;
}

static CwStatus align_found(const CwAlignFeatures *a, const CwAlignFeatures *b, Found *found, const CwReport *report,
                            CwTimeMap *map)
{
  CwRuns runs = {0};
  CwScales scales = {0};
  const size_t n_a = (a->n + found->step - 1) / found->step;
  CwStatus status = cw_runs_find(&found->trail, n_a, (double)CW_ALIGN_RATE_HZ / (double)found->step, &runs);
  if (!status && runs.n == 0) {
    status = CW_ERR_OTHER_MUSIC;
  }
  if (!status) {
    status = cw_scales_make(a, b, found->transpose, &scales);
  }
  if (!status) {
    status = fill_map(&scales, &found->trail, &runs, found->step, report, map);
  }
  cw_scales_free(&scales);
  free(runs.run);
  return status;
}

CwStatus cw_align(const CwAlignFeatures *a, const CwAlignFeatures *b, const CwReport *report, CwTimeMap *map)
{
  *map = (CwTimeMap){.a_duration_s = a->duration_s, .b_duration_s = b->duration_s};
  Found found = {.step = search_step(a, b)};
  CwStatus status = search_all(a, b, report, &found);
  if (!status) {
    map->tuning_cents = b->tuning_cents - a->tuning_cents + 100.0 * found.transpose;
    status = align_found(a, b, &found, report, map);
  }
  cw_trail_free(&found.trail);
  if (status) {
    cw_time_map_free(map);
  }
  return status;
}
