// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "ear/matrix.h"
#include "unit/random.h"

enum { ROOM = 4000 };

static void fill(float *values, size_t n, uint64_t *seed)
{
  for (size_t i = 0; i < n; i++) {
    values[i] = (float)random_between(seed, -1.0, 1.0);
  }
}

/// One value of the product, said plainly.
static double product(const CwMatrix *m, const CwRows *in, size_t row, size_t o)
{
  const size_t part = m->n_in / in->n_parts;
  double sum = (double)m->bias[o];
  for (size_t k = 0; k < m->n_in; k++) {
    const float x = in->at[row * in->row_step + k / part * in->part_step + k % part];
    sum += (double)m->weight[k * m->n_out + o] * (double)x;
  }
  return sum;
}

static void a_product_is_the_sum_over_inputs_whatever_the_sizes(void **state)
{
  (void)state;
  static float in[ROOM], weight[ROOM], bias[32], out[ROOM];
  uint64_t seed = 1;
  fill(in, ROOM, &seed);
  fill(weight, ROOM, &seed);
  fill(bias, 32, &seed);
  for (int round = 0; round < 300; round++) {
    const size_t n_parts = 1 + random_below(&seed, 5);
    const size_t part = 1 + random_below(&seed, 9);
    const CwMatrix m = {n_parts * part, 1 + random_below(&seed, 19), weight, bias};
    const CwRows rows = {in, 1 + random_below(&seed, 40), n_parts, random_below(&seed, 60)};
    const size_t n = random_below(&seed, 14);
    const size_t out_step = m.n_out + random_below(&seed, 5);
    for (size_t i = 0; i < ROOM; i++) {
      out[i] = 77.0F;
    }
    cw_matrix_apply(&m, &rows, n, out, out_step);
    for (size_t i = 0; i < ROOM; i++) {
      const bool written = i / out_step < n && i % out_step < m.n_out;
      const double wanted = written ? product(&m, &rows, i / out_step, i % out_step) : 77.0;
      assert_near((double)out[i], wanted, 2e-6);
    }
  }
}

static void a_row_does_not_depend_on_how_many_there_are(void **state)
{
  (void)state;
  static float in[ROOM], weight[ROOM], bias[48], together[11 * 48], alone[48];
  uint64_t seed = 2;
  fill(in, ROOM, &seed);
  fill(weight, ROOM, &seed);
  fill(bias, 48, &seed);
  const CwMatrix m = {75, 48, weight, bias};
  const CwRows rows = {in, 25, 3, 50};
  cw_matrix_apply(&m, &rows, 11, together, 48);
  for (size_t row = 0; row < 11; row++) {
    const CwRows one = {in + row * 25, 25, 3, 50};
    cw_matrix_apply(&m, &one, 1, alone, 48);
    assert_memory_equal(alone, together + row * 48, sizeof alone);
  }
}

static void a_unit_is_the_exponential_less_one_below_zero(void **state)
{
  (void)state;
  enum { N = 200001 };
  float *values = calloc(N, sizeof *values);
  assert_non_null(values);
  for (size_t i = 0; i < N; i++) {
    values[i] = (float)i * 5e-4F - 90.0F;
  }
  cw_elu(values, N);
  for (size_t i = 0; i < N; i++) {
    const double x = (double)((float)i * 5e-4F - 90.0F);
    assert_near((double)values[i], x > 0 ? x : expm1(x), 1.5e-7);
  }
  free(values);
}

static void a_unit_never_falls_where_its_value_rises(void **state)
{
  (void)state;
  float last = -1.0F;
  for (float x = -20.0F; x < 0.01F; x += 1e-5F) {
    float value = x;
    cw_elu(&value, 1);
    assert_true(value >= last - 1.2e-7F); // pooling comes before units: at most the last digit differs
    last = value;
  }
}

static void units_of_the_greatest_and_smallest_values(void **state)
{
  (void)state;
  float values[] = {3.4e38F, -3.4e38F, 0.0F, -0.0F, 1e-30F, -1e-30F, -1e-5F, INFINITY, -INFINITY};
  const double wanted[] = {3.4e38, -1, 0, 0, 1e-30, -1e-30, -9.99995e-6, (double)INFINITY, -1};
  cw_elu(values, sizeof values / sizeof values[0]);
  for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
    if (isinf(wanted[i])) {
      assert_true(isinf(values[i]) && values[i] > 0);
    } else {
      assert_near((double)values[i], wanted[i], fmax(1e-6 * fabs(wanted[i]), 1e-37));
    }
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_product_is_the_sum_over_inputs_whatever_the_sizes),
      cmocka_unit_test(a_row_does_not_depend_on_how_many_there_are),
      cmocka_unit_test(a_unit_is_the_exponential_less_one_below_zero),
      cmocka_unit_test(a_unit_never_falls_where_its_value_rises),
      cmocka_unit_test(units_of_the_greatest_and_smallest_values),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
