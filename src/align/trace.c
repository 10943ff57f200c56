// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/trace.h"

#include <stdlib.h>

#include "align/cost.h"
#include "align/warp.h"
#include "base/memory.h"

/// A step to the side costs as much as one along the diagonal, which covers twice as much: the path runs straight where
/// nothing speaks against it.
static const CwWarpStep steps[] = {{1, 1, 2.0F}, {1, 0, 2.0F}, {0, 1, 2.0F}};
static const float harmony_weight = 0.25F;

/// Half the side of the square about each cell of the trail, in frames (2 s).
enum { REACH = 20 };

/// Every cell of the path says a little, one where attacks meet says more.
static const double cell_weight = 0.0003;
static const double stiffness = 30.0;
static const double outlier_s = 0.3;

/// A rectangle of the matrix that is warped on its own.
typedef struct {
  const CwFrames *a, *b;
  size_t a_first, b_first, n_a, n_b;
} Field;

static void field_cost(const void *user, size_t i, size_t j, size_t n, float *cost)
{
  const Field *field = user;
  cw_cost(field->a, field->a_first + i, field->b, field->b_first + j, n, harmony_weight, cost);
}

static size_t less(size_t from, size_t by)
{
  return from > by ? from - by : 0;
}

static size_t least(size_t one, size_t other)
{
  return one < other ? one : other;
}

/// The field from the trail's first cell to its last.
static Field field_of(const CwFrames *a, const CwFrames *b, const CwTrail *trail, CwRun run, size_t ratio)
{
  Field field = {.a = a, .b = b, .a_first = (size_t)trail->a[run.first] * ratio, .b_first = run.first * ratio};
  field.n_a = least(((size_t)trail->a[run.end - 1] + 1) * ratio, a->n) - field.a_first;
  field.n_b = least(run.end * ratio, b->n) - field.b_first;
  return field;
}

static void widen(size_t *low, size_t *high, size_t first, size_t end, size_t left, size_t right)
{
  for (size_t i = first; i < end; i++) {
    low[i] = least(low[i], left);
    high[i] = right > high[i] ? right : high[i];
  }
}

/// The band: a square about every cell of the trail, which stands for `ratio` frames of the field each way.
static void fill_band(const Field *field, const CwTrail *trail, CwRun run, size_t ratio, size_t *low, size_t *high)
{
  for (size_t i = 0; i < field->n_a; i++) {
    low[i] = field->n_b;
    high[i] = 0;
  }
  for (size_t j = run.first; j < run.end; j++) {
    // on to the next cell, as the trail may leap over frames of a
    const size_t next = (size_t)trail->a[j + 1 < run.end ? j + 1 : j];
    const size_t a = (size_t)trail->a[j] * ratio - field->a_first;
    const size_t a_end = (next + 1) * ratio - field->a_first + REACH;
    const size_t b = j * ratio - field->b_first;
    widen(low, high, less(a, REACH), least(a_end, field->n_a), less(b, REACH),
          least(b + 2 * ratio + REACH, field->n_b));
  }
  low[0] = 0;
  high[field->n_a - 1] = field->n_b;
  for (size_t i = 1; i < field->n_a; i++) {
    high[i] = high[i] > high[i - 1] ? high[i] : high[i - 1];
  }
  for (size_t i = field->n_a - 1; i-- > 0;) {
    low[i] = least(low[i], low[i + 1]);
  }
}

static CwStatus warp_field(const Field *field, const CwTrail *trail, CwRun run, size_t ratio, CwWarpPath *path)
{
  size_t *low = cw_new(2 * field->n_a, sizeof *low);
  if (!low) {
    return CW_ERR_NO_MEM;
  }
  size_t *high = low + field->n_a;
  fill_band(field, trail, run, ratio, low, high);
  const CwWarpRules rules = {.step = steps, .n_steps = sizeof steps / sizeof *steps, .low = low, .high = high};
  const CwStatus status = cw_warp(field->n_a, field->n_b, &rules, field_cost, field, NULL, path);
  free(low);
  return status;
}

/// Bend a straight line to the path, at the path's rate.
static CwStatus lay_curve(const Field *field, const CwWarpPath *path, CwGuide *slow)
{
  const double frame_s = (double)CW_TRACE_STEP / CW_ALIGN_RATE_HZ;
  for (size_t i = 0; i < slow->n; i++) {
    slow->b_s[i] = frame_s * ((double)field->b_first + (double)(i * field->n_b) / (double)field->n_a);
  }
  CwEvidence evidence;
  if (cw_evidence_init(field->n_a, &evidence)) {
    return CW_ERR_NO_MEM;
  }
  for (size_t c = 0; c < path->n; c++) {
    const CwWarpCell cell = path->cell[c];
    const size_t b = field->b_first + cell.b;
    const float shared = cw_frames_attacks_shared(field->a, field->a_first + cell.a, field->b, b);
    cw_evidence_add(&evidence, cell.a, frame_s * (double)b, cell_weight + (double)shared);
  }
  const CwStatus status = cw_guide_bend(slow, &evidence, stiffness, outlier_s);
  cw_evidence_free(&evidence);
  return status;
}

/// From one value every CW_TRACE_STEP frames to one every frame.
static void spread(const double *slow, CwGuide *guide)
{
  for (size_t i = 0; i < guide->n; i++) {
    const size_t left = i / CW_TRACE_STEP;
    const double part = (double)(i % CW_TRACE_STEP) / CW_TRACE_STEP;
    guide->b_s[i] = part > 0 ? slow[left] + part * (slow[left + 1] - slow[left]) : slow[left];
  }
}

CwStatus cw_trace(const CwFrames *a, const CwFrames *b, const CwTrail *trail, CwRun run, size_t step, CwGuide *guide)
{
  const Field field = field_of(a, b, trail, run, step / CW_TRACE_STEP);
  CwWarpPath path = {0};
  CwGuide slow = {.n = field.n_a, .b_s = cw_new(field.n_a, sizeof(double))};
  *guide = (CwGuide){.first = field.a_first * CW_TRACE_STEP, .n = (field.n_a - 1) * CW_TRACE_STEP + 1};
  guide->b_s = cw_new(guide->n, sizeof *guide->b_s);
  CwStatus status = slow.b_s && guide->b_s ? CW_OK : CW_ERR_NO_MEM;
  if (!status) {
    status = warp_field(&field, trail, run, step / CW_TRACE_STEP, &path);
  }
  if (!status) {
    status = lay_curve(&field, &path, &slow);
  }
  if (!status) {
    spread(slow.b_s, guide);
  } else {
    cw_guide_free(guide);
  }
  cw_guide_free(&slow);
  free(path.cell);
  return status;
}
