// SPDX-License-Identifier: GPL-3.0-or-later
#include "ear/front.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

// So were bands scaled in training.
#define INPUT_SCALE (0.5F / CW_HEARD_SCALE)
#define INPUT_SHIFT 0.6F

enum {
  CELLS = CW_EAR_SECOND_POOLED,
  FIRST = CW_EAR_POOL * CW_EAR_FIRST_POOLED, // a convolution's results that pooling leaves out are not computed
  SECOND = CW_EAR_POOL * CW_EAR_SECOND_POOLED
};
_Static_assert(CELLS == CW_EAR_THIRD_BANDS, "the third convolution leaves one column");

CwStatus cw_front_init(const CwNetwork *network, CwFront *front)
{
  const size_t width = network->width;
  *front = (CwFront){.bands = cw_new((CW_FRONT_BLOCK + 4) * CW_HEARD_BANDS, sizeof(float)),
                     .first = cw_new(FIRST * width, sizeof(float)),
                     .pooled = cw_new(CW_EAR_FIRST_POOLED * width, sizeof(float)),
                     .second = cw_new(SECOND * width, sizeof(float)),
                     .cells = cw_new((CW_FRONT_BLOCK + 2) * CELLS * width, sizeof(float))};
  if (front->bands && front->first && front->pooled && front->second && front->cells) {
    return CW_OK;
  }
  cw_front_free(front);
  return CW_ERR_NO_MEM;
}

/// Whether row `i` rows after `from`, less `before`, lies in the recording.
static bool is_inside(size_t from, size_t i, size_t before, size_t n_heard)
{
  return from + i >= before && from + i - before < n_heard;
}

/// Scale the bytes of the block and two rows to each side; outside the recording everything is 0.
static void scale(CwFront *front, const unsigned char *heard, size_t n_heard, size_t from, size_t n)
{
  for (size_t i = 0; i < n + 4; i++) {
    float *row = front->bands + i * CW_HEARD_BANDS;
    if (!is_inside(from, i, 2, n_heard)) {
      memset(row, 0, CW_HEARD_BANDS * sizeof *row);
      continue;
    }
    const unsigned char *bytes = heard + (from + i - 2) * CW_HEARD_BANDS;
    for (size_t b = 0; b < CW_HEARD_BANDS; b++) {
      row[b] = INPUT_SCALE * (float)bytes[b] - INPUT_SHIFT;
    }
  }
}

/// The most of each CW_EAR_POOL neighbouring rows of `in`, then its unit: units keep order, so this is the same as the
/// most of units, with fewer of them.
static void pool(const float *restrict in, size_t width, size_t n_pooled, float *restrict out)
{
  for (size_t i = 0; i < n_pooled; i++) {
    const float *restrict a = in + CW_EAR_POOL * i * width;
    const float *restrict b = a + width;
    const float *restrict c = b + width;
    for (size_t o = 0; o < width; o++) {
      const float most = a[o] > b[o] ? a[o] : b[o];
      out[i * width + o] = most > c[o] ? most : c[o];
    }
  }
  cw_elu(out, n_pooled * width);
}

void cw_front_hear(CwFront *front, const CwNetwork *network, const unsigned char *heard, size_t n_heard, size_t from,
                   size_t n, float *out)
{
  const size_t width = network->width;
  const size_t row_size = CELLS * width;
  scale(front, heard, n_heard, from, n);
  for (size_t i = 0; i < n + 2; i++) {
    float *cells = front->cells + i * row_size;
    if (!is_inside(from, i, 1, n_heard)) {
      memset(cells, 0, row_size * sizeof *cells);
      continue;
    }
    const CwRows bands = {front->bands + i * CW_HEARD_BANDS, 1, 3, CW_HEARD_BANDS};
    cw_matrix_apply(&network->first, &bands, FIRST, front->first, width);
    pool(front->first, width, CW_EAR_FIRST_POOLED, front->pooled);
    const CwRows pooled = {front->pooled, width, 1, 0};
    cw_matrix_apply(&network->second, &pooled, SECOND, front->second, width);
    pool(front->second, width, CELLS, cells);
  }
  const CwRows cells = {front->cells, row_size, 1, 0};
  cw_matrix_apply(&network->third, &cells, n, out, network->channels);
  cw_elu(out, n * network->channels);
}

void cw_front_free(CwFront *front)
{
  free(front->bands);
  free(front->first);
  free(front->pooled);
  free(front->second);
  free(front->cells);
  memset(front, 0, sizeof *front);
}
