// SPDX-License-Identifier: GPL-3.0-or-later
#include "ear/matrix.h"

#include <string.h>

/// Add two inputs to each of four rows. Four rows share each weight that is read, two inputs each sum that is written.
static void add_four(const float *restrict weight, size_t n_in, size_t n_out, const float *restrict in, size_t row_step,
                     float *restrict out, size_t out_step)
{
  float *restrict a = out;
  float *restrict b = out + out_step;
  float *restrict c = out + 2 * out_step;
  float *restrict d = out + 3 * out_step;
  for (size_t k = 0; k + 1 < n_in; k += 2) {
    const float *restrict v = weight + k * n_out;
    const float *restrict w = v + n_out;
    const float *x = in + k;
    const float a0 = x[0], a1 = x[1];
    const float b0 = x[row_step], b1 = x[row_step + 1];
    const float c0 = x[2 * row_step], c1 = x[2 * row_step + 1];
    const float d0 = x[3 * row_step], d1 = x[3 * row_step + 1];
    for (size_t o = 0; o < n_out; o++) {
      a[o] += v[o] * a0 + w[o] * a1;
      b[o] += v[o] * b0 + w[o] * b1;
      c[o] += v[o] * c0 + w[o] * c1;
      d[o] += v[o] * d0 + w[o] * d1;
    }
  }
}

/// The same for one row.
static void add_one(const float *restrict weight, size_t n_in, size_t n_out, const float *restrict in,
                    float *restrict out)
{
  for (size_t k = 0; k + 1 < n_in; k += 2) {
    const float *restrict v = weight + k * n_out;
    const float *restrict w = v + n_out;
    const float a0 = in[k], a1 = in[k + 1];
    for (size_t o = 0; o < n_out; o++) {
      out[o] += v[o] * a0 + w[o] * a1;
    }
  }
}

/// The last input, where their number is odd.
static void add_last(const float *restrict weight, size_t n_out, float in, float *restrict out)
{
  for (size_t o = 0; o < n_out; o++) {
    out[o] += weight[o] * in;
  }
}

void cw_matrix_apply(const CwMatrix *m, const CwRows *in, size_t n, float *out, size_t out_step)
{
  const size_t part = m->n_in / in->n_parts;
  const size_t even = part - part % 2;
  for (size_t row = 0; row < n;) {
    const size_t rows = row + 4 <= n ? 4 : 1; // the same sums in the same order, either way
    float *y = out + row * out_step;
    for (size_t r = 0; r < rows; r++) {
      memcpy(y + r * out_step, m->bias, m->n_out * sizeof *y);
    }
    for (size_t p = 0; p < in->n_parts; p++) {
      const float *x = in->at + row * in->row_step + p * in->part_step;
      const float *weight = m->weight + p * part * m->n_out;
      if (rows == 4) {
        add_four(weight, even, m->n_out, x, in->row_step, y, out_step);
      } else {
        add_one(weight, even, m->n_out, x, y);
      }
      for (size_t r = 0; r < rows && even < part; r++) {
        add_last(weight + even * m->n_out, m->n_out, x[r * in->row_step + even], y + r * out_step);
      }
    }
    row += rows;
  }
}
