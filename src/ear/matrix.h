// SPDX-License-Identifier: GPL-3.0-or-later
/// Many rows times one matrix: all that the network is made of.
#ifndef CW_EAR_MATRIX_H
#define CW_EAR_MATRIX_H

#include <stddef.h>

/// A matrix and what is added. The weights lie input by input, so that loops run over outputs: compilers make vectors
/// of them without changing the order of any sum.
typedef struct {
  size_t n_in;
  size_t n_out;
  const float *weight; ///< n_in rows of n_out
  const float *bias;   ///< n_out values
} CwMatrix;

/// Where the inputs of each row lie: `n_parts` stretches of n_in / n_parts values.
typedef struct {
  const float *at;  ///< the first value of row 0
  size_t row_step;  ///< values from row to row
  size_t n_parts;   ///< a divisor of n_in
  size_t part_step; ///< values from stretch to stretch
} CwRows;

/// out[row][o] = bias[o] + sum over inputs of weight[input][o] * in[row][input], for `n` rows.
/// @param[out] out Rows `out_step` apart; no overlap with the inputs.
void cw_matrix_apply(const CwMatrix *matrix, const CwRows *in, size_t n, float *out, size_t out_step);

/// Exponential linear units (Clevert et al. 2016): values above 0 stay, others become exp(x) - 1, to about 1e-7.
void cw_elu(float *values, size_t n);

#endif
