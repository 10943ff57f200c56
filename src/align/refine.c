// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/refine.h"

#include <math.h>
#include <stdlib.h>

#include "align/cost.h"
#include "align/warp.h"
#include "base/memory.h"

/// A step to the side costs a little less than one along the diagonal: here the guide is wrong where the player is free.
static const CwWarpStep steps[] = {{1, 1, 2.0F}, {1, 0, 1.8F}, {0, 1, 1.8F}};
static const float harmony_weight = 0.1F;
static const double fade_frames = 4.0;

/// Frames warped at a time (two minutes) and how far (four seconds) stretches overlap to either side.
enum { STRETCH = 6000, OVERLAP = 200 };

static const double outlier_s = 0.06;

/// One stretch, with b straightened.
typedef struct {
  CwFrames a; ///< `n` frames
  CwFrames b; ///< `reach` more on each side
  size_t n;
  size_t reach;
  double *b_s; ///< times of b's frames
} Stretch;

static void stretch_cost(const void *user, size_t i, size_t j, size_t n, float *cost)
{
  const Stretch *stretch = user;
  cw_cost(&stretch->a, i, &stretch->b, j, n, harmony_weight, cost);
}

static void free_stretch(Stretch *stretch)
{
  cw_frames_free(&stretch->a);
  cw_frames_free(&stretch->b);
  free(stretch->b_s);
}

/// Lay out frames `from` to `to` of the guide.
static CwStatus lay_out(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, const CwGuide *guide,
                        size_t from, size_t to, Stretch *stretch)
{
  const size_t reach = stretch->reach;
  const size_t n_b = to - from + 2 * reach;
  stretch->n = to - from;
  stretch->b_s = cw_new(n_b, sizeof *stretch->b_s);
  double *a_s = cw_new(stretch->n, sizeof *a_s);
  CwStatus status = stretch->b_s && a_s ? CW_OK : CW_ERR_NO_MEM;
  for (size_t i = 0; i < n_b && !status; i++) {
    const double place_s = ((double)(guide->first + from + i) - (double)reach) / CW_ALIGN_RATE_HZ;
    stretch->b_s[i] = cw_guide_at(guide, place_s);
    // a guide may stand still for a moment
    if (i > 0 && stretch->b_s[i] < stretch->b_s[i - 1] + 1e-4) {
      stretch->b_s[i] = stretch->b_s[i - 1] + 1e-4;
    }
    if (i >= reach && i < reach + stretch->n) {
      a_s[i - reach] = place_s;
    }
  }
  if (!status) {
    status = cw_frames_at(a, a_s, stretch->n, 0, fade_frames, &stretch->a);
  }
  if (!status) {
    status = cw_frames_at(b, stretch->b_s, n_b, transpose, fade_frames, &stretch->b);
  }
  free(a_s);
  return status;
}

static CwStatus warp_stretch(const Stretch *stretch, CwWarpPath *path)
{
  size_t *low = cw_new(2 * stretch->n, sizeof *low);
  if (!low) {
    return CW_ERR_NO_MEM;
  }
  size_t *high = low + stretch->n;
  for (size_t i = 0; i < stretch->n; i++) {
    low[i] = i;
    high[i] = i + 2 * stretch->reach + 1;
  }
  const CwWarpRules rules = {.step = steps,
                             .n_steps = sizeof steps / sizeof *steps,
                             .open_start = true,
                             .open_end = true,
                             .low = low,
                             .high = high};
  const CwStatus status = cw_warp(stretch->n, stretch->b.n, &rules, stretch_cost, stretch, NULL, path);
  free(low);
  return status;
}

/// Take the path's cells of frames `from` to `to` of the stretch, which is frame `offset` of the guide.
static void take_cells(const Stretch *stretch, const CwWarpPath *path, size_t offset, size_t from, size_t to,
                       CwEvidence *evidence)
{
  for (size_t c = 0; c < path->n; c++) {
    const CwWarpCell cell = path->cell[c];
    if (cell.a >= from && cell.a < to) {
      const float shared = cw_frames_attacks_shared(&stretch->a, cell.a, &stretch->b, cell.b);
      cw_evidence_add(evidence, offset + cell.a, stretch->b_s[cell.b], (double)shared);
    }
  }
}

CwStatus cw_refine_by_warping(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, size_t reach,
                              double stiffness, CwGuide *guide)
{
  CwEvidence evidence;
  CwStatus status = cw_evidence_init(guide->n, &evidence);
  for (size_t at = 0; at < guide->n && !status; at += STRETCH) {
    const size_t from = at > OVERLAP ? at - OVERLAP : 0;
    const size_t end = at + STRETCH < guide->n ? at + STRETCH : guide->n;
    const size_t to = end + OVERLAP < guide->n ? end + OVERLAP : guide->n;
    Stretch stretch = {.reach = reach};
    CwWarpPath path = {0};
    status = lay_out(a, b, transpose, guide, from, to, &stretch);
    if (!status) {
      status = warp_stretch(&stretch, &path);
    }
    if (!status) {
      take_cells(&stretch, &path, from, at - from, end - from, &evidence);
    }
    free(path.cell);
    free_stretch(&stretch);
  }
  if (!status) {
    status = cw_guide_bend(guide, &evidence, stiffness, outlier_s);
  }
  cw_evidence_free(&evidence);
  return status;
}
