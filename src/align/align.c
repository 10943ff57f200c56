// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/align.h"

#include <stdlib.h>

#include "align/features.h"
#include "align/jumps.h"
#include "align/offset.h"
#include "align/refine.h"
#include "align/runs.h"
#include "align/segments.h"
#include "align/sureness.h"
#include "align/trace.h"
#include "base/memory.h"

/// Recordings of the same music gather at least this of what a perfect match would; see jumps.h. With less than `enough`
/// other transpositions are tried.
static const double least_gain = 0.08;
static const double enough_gain = 0.18;

/// Chords alone are alike in much music. So it is not the same music where this much is not reached by the gain and, so
/// many times, how sure the map is on the whole over what it is by chance. Set on 2300 pairs of recordings of which 48
/// are of one music, made by scripts/training/pairs.py.
static const double wanted = 0.195;
static const double sureness_share = 0.75;

/// What the search for jumps found.
typedef struct {
  size_t step; ///< frames of the features to one of the search
  int transpose;
  CwTrail trail;
} Found;

static CwStatus search(const CwFrames *a, const CwAlignFeatures *b, int transpose, const CwReport *report, Found *found)
{
  CwFrames b_frames = {0};
  CwTrail trail = {0};
  CwStatus status = cw_frames_thin(b, found->step, 2, transpose, CW_FADE_S, &b_frames);
  if (!status) {
    status = cw_jumps_find(a, &b_frames, (double)CW_ALIGN_RATE_HZ / (double)found->step, report, &trail);
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
  CwStatus status = cw_frames_thin(a, found->step, 2, 0, CW_FADE_S, &a_frames);
  for (size_t t = 0; t < 5 && !status; t++) {
    status = search(&a_frames, b, transpositions[t], report, found);
    if (!status && found->trail.gain >= enough_gain) {
      break;
    }
  }
  cw_frames_free(&a_frames);
  if (!status && found->trail.gain < least_gain) {
    status = CW_ERR_OTHER_MUSIC;
  }
  return status;
}

/// Both recordings at the rate of cw_trace().
typedef struct {
  CwFrames a, b;
} Slow;

static CwStatus make_slow(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, Slow *slow)
{
  CwStatus status = cw_frames_thin(a, CW_TRACE_STEP, 1, 0, CW_FADE_S, &slow->a);
  if (!status) {
    status = cw_frames_thin(b, CW_TRACE_STEP, 1, transpose, CW_FADE_S, &slow->b);
  }
  return status;
}

/// From coarse to fine: each step looks for less and bends more readily.
static CwStatus refine(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, CwGuide *guide)
{
  CwStatus status = cw_refine_by_warping(a, b, transpose, 20, 300.0, guide);
  if (!status) {
    status = cw_refine_by_warping(a, b, transpose, 10, 100.0, guide);
  }
  if (!status) {
    status = cw_refine_by_attacks(a, b, transpose, 0.2, 10.0, guide);
  }
  return status ? status : cw_refine_by_attacks(a, b, transpose, 0.1, 3.0, guide);
}

static CwStatus guide_runs(const CwAlignFeatures *a, const CwAlignFeatures *b, const Found *found, const CwRuns *runs,
                           const CwReport *report, CwGuide *guide)
{
  Slow slow = {0};
  CwStatus status = make_slow(a, b, found->transpose, &slow);
  for (size_t r = 0; r < runs->n && !status; r++) {
    status = cw_report_progress(report, "aligning", (double)r / (double)runs->n);
    if (!status) {
      status = cw_trace(&slow.a, &slow.b, &found->trail, runs->run[r], found->step, &guide[r]);
    }
    if (!status) {
      status = refine(a, b, found->transpose, &guide[r]);
    }
  }
  cw_frames_free(&slow.a);
  cw_frames_free(&slow.b);
  return status;
}

/// Let the guides go by where notes begin.
/// @return How much later b's attacks are found than where the guides have them then.
static double correct_offset(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, CwGuide *guide,
                             size_t n, CwTimeMap *map)
{
  CwOffset offset;
  cw_offset_estimate(a, b, transpose, guide, n, &offset);
  map->offset_s = offset.heard_s;
  for (size_t g = 0; g < n; g++) {
    for (size_t i = 0; i < guide[g].n; i++) {
      guide[g].b_s[i] -= offset.late_s;
    }
  }
  return offset.late_s;
}

/// The segments of a map from the guides of its runs.
static CwStatus finish(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, CwGuide *guide, size_t n,
                       CwTimeMap *map)
{
  const double late_s = correct_offset(a, b, transpose, guide, n, map);
  CwStatus status = cw_segments_make(a, b, transpose, guide, n, map);
  for (size_t s = 0; s < map->n_segments && !status; s++) {
    status = cw_sureness(a, b, transpose, late_s, &map->segment[s]);
  }
  return status;
}

/// Whether what was aligned is the same music; a map without points is not. @param gain Of the search.
static bool is_same_music(const CwTimeMap *map, double gain)
{
  return gain + sureness_share * (cw_mean_sureness(map) - CW_SURE_BY_CHANCE) >= wanted;
}

static CwStatus align_found(const CwAlignFeatures *a, const CwAlignFeatures *b, Found *found, const CwReport *report,
                            CwTimeMap *map)
{
  CwRuns runs = {0};
  const size_t n_a = (a->n + found->step - 1) / found->step;
  CwStatus status = cw_runs_find(&found->trail, n_a, (double)CW_ALIGN_RATE_HZ / (double)found->step, &runs);
  if (status) {
    return status;
  }
  CwGuide *guide = cw_new(runs.n, sizeof *guide);
  status = !guide ? CW_ERR_NO_MEM : runs.n == 0 ? CW_ERR_OTHER_MUSIC : CW_OK;
  if (!status) {
    status = guide_runs(a, b, found, &runs, report, guide);
  }
  if (!status) {
    status = finish(a, b, found->transpose, guide, runs.n, map);
  }
  if (!status && !is_same_music(map, found->trail.gain)) {
    status = CW_ERR_OTHER_MUSIC;
  }
  for (size_t r = 0; r < runs.n && guide; r++) {
    cw_guide_free(&guide[r]);
  }
  free(guide);
  free(runs.run);
  return status;
}

CwStatus cw_align(const CwAlignFeatures *a, const CwAlignFeatures *b, const CwReport *report, CwTimeMap *map)
{
  *map = (CwTimeMap){.a_duration_s = a->duration_s, .b_duration_s = b->duration_s};
  Found found = {.step = cw_search_step(a, b)};
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
