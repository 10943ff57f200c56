// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/trace.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { SLOW_STEP = 5 }; // frames at 50 Hz to one at 10 Hz

/// A step to the side costs as much as one along the diagonal, which covers twice as much: the path runs straight where
/// nothing speaks against it.
static const CwWarpStep steps[] = {{1, 1, 2.0F}, {1, 0, 2.0F}, {0, 1, 2.0F}};

static const float harmony_weight = 0.25F;
static const float attack_weight = 0.5F;

/// Half the side of the square about each cell of the path before, in frames at the new rate: 1 s and 0.4 s.
enum { SLOW_REACH = 10, FINE_REACH = 20 };

/// A rectangle of the matrix that is warped on its own.
typedef struct {
  const CwFrames *a, *b;
  size_t a_first, b_first, n_a, n_b;
} Field;

CwStatus cw_scales_make(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, CwScales *scales)
{
  memset(scales, 0, sizeof *scales);
  if (cw_frames_make(a, SLOW_STEP, 1, 0, &scales->a_slow) ||
      cw_frames_make(b, SLOW_STEP, 1, transpose, &scales->b_slow) || cw_frames_make(a, 1, 0, 0, &scales->a_fine) ||
      cw_frames_make(b, 1, 0, transpose, &scales->b_fine)) {
    cw_scales_free(scales);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

void cw_scales_free(CwScales *scales)
{
  cw_frames_free(&scales->a_slow);
  cw_frames_free(&scales->b_slow);
  cw_frames_free(&scales->a_fine);
  cw_frames_free(&scales->b_fine);
}

static void field_cost(const void *user, size_t i, size_t j, size_t n, float *cost)
{
  const Field *field = user;
  float likeness[512];
  for (size_t done = 0; done < n; done += 512) {
    const size_t part = n - done < 512 ? n - done : 512;
    float *out = cost + done;
    cw_frames_likeness(field->a, field->a_first + i, field->b, field->b_first + j + done, part, likeness);
    cw_frames_attack_distance(field->a, field->a_first + i, field->b, field->b_first + j + done, part, out);
    for (size_t k = 0; k < part; k++) {
      out[k] = harmony_weight * (1.0F - likeness[k]) + attack_weight * out[k];
    }
  }
}

static void widen(size_t *low, size_t *high, size_t first, size_t end, size_t left, size_t right)
{
  for (size_t i = first; i < end; i++) {
    low[i] = left < low[i] ? left : low[i];
    high[i] = right > high[i] ? right : high[i];
  }
}

static size_t less(size_t from, size_t by)
{
  return from > by ? from - by : 0;
}

static size_t least(size_t one, size_t other)
{
  return one < other ? one : other;
}

/// The band: a square about every cell of `path`, whose cells stand for `ratio` frames of the field each.
static void fill_band(const Field *field, const CwWarpPath *path, size_t ratio, size_t reach, size_t *low, size_t *high)
{
  for (size_t i = 0; i < field->n_a; i++) {
    low[i] = field->n_b;
    high[i] = 0;
  }
  for (size_t c = 0; c < path->n; c++) {
    // reach on to the next cell: a path by hand may leap
    const CwWarpCell next = path->cell[c + 1 < path->n ? c + 1 : c];
    const size_t a = less(path->cell[c].a * ratio, field->a_first);
    const size_t b = less(path->cell[c].b * ratio, field->b_first);
    const size_t a_end = less((next.a + 1) * ratio, field->a_first) + reach;
    const size_t b_end = less((next.b + 1) * ratio, field->b_first) + reach;
    widen(low, high, less(a, reach), least(a_end, field->n_a), less(b, reach), least(b_end, field->n_b));
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

static CwStatus warp_field(const Field *field, const CwWarpPath *about, size_t ratio, size_t reach, CwWarpPath *path)
{
  size_t *low = cw_new(2 * field->n_a, sizeof *low);
  if (!low) {
    return CW_ERR_NO_MEM;
  }
  size_t *high = low + field->n_a;
  fill_band(field, about, ratio, reach, low, high);
  const CwWarpRules rules = {.step = steps, .n_steps = sizeof steps / sizeof *steps, .low = low, .high = high};
  const CwStatus status = cw_warp(field->n_a, field->n_b, &rules, field_cost, field, NULL, path);
  free(low);
  for (size_t c = 0; c < path->n; c++) {
    path->cell[c].a += field->a_first;
    path->cell[c].b += field->b_first;
  }
  return status;
}

/// The run as cells of the trail's rate.
static CwStatus run_cells(const CwTrail *trail, CwRun run, CwWarpPath *path)
{
  *path = (CwWarpPath){.n = run.end - run.first};
  path->cell = cw_new(path->n, sizeof *path->cell);
  if (!path->cell) {
    return CW_ERR_NO_MEM;
  }
  for (size_t c = 0; c < path->n; c++) {
    path->cell[c] = (CwWarpCell){(size_t)trail->a[run.first + c], run.first + c};
  }
  return CW_OK;
}

/// The part of the matrix from the first to the last cell of `about`.
static Field field_about(const CwFrames *a, const CwFrames *b, const CwWarpPath *about, size_t ratio)
{
  const CwWarpCell first = about->cell[0];
  const CwWarpCell last = about->cell[about->n - 1];
  Field field = {.a = a, .b = b, .a_first = first.a * ratio, .b_first = first.b * ratio};
  field.n_a = least((last.a + 1) * ratio, a->n) - field.a_first;
  field.n_b = least((last.b + 1) * ratio, b->n) - field.b_first;
  return field;
}

CwStatus cw_trace_run(const CwScales *scales, const CwTrail *trail, CwRun run, size_t step, CwWarpPath *path)
{
  CwWarpPath rough = {0};
  CwWarpPath slow = {0};
  *path = (CwWarpPath){0};
  CwStatus status = run_cells(trail, run, &rough);
  if (!status) {
    const Field field = field_about(&scales->a_slow, &scales->b_slow, &rough, step / SLOW_STEP);
    status = warp_field(&field, &rough, step / SLOW_STEP, SLOW_REACH, &slow);
  }
  if (!status) {
    const Field field = field_about(&scales->a_fine, &scales->b_fine, &slow, SLOW_STEP);
    status = warp_field(&field, &slow, SLOW_STEP, FINE_REACH, path);
  }
  free(rough.cell);
  free(slow.cell);
  return status;
}
