// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>

#include "align/curve.h"
#include "base/memory.h"

enum { N = 40 };

static void a_straight_line_stays_itself(void **state)
{
  (void)state;
  double value[N];
  double weight[N];
  double curve[N];
  for (int i = 0; i < N; i++) {
    value[i] = 3.0;
    weight[i] = 1 + i % 3;
  }
  assert_int_equal(cw_curve_fit(value, weight, N, 1000.0, 1.0, curve), CW_OK);
  for (int i = 0; i < N; i++) {
    assert_near(curve[i], 3.0, 1e-6);
  }
}

static void gaps_are_bridged_and_outliers_lose_their_say(void **state)
{
  (void)state;
  double value[N] = {0};
  double weight[N] = {0};
  double curve[N];
  for (int i = 0; i < N; i += 3) {
    value[i] = 0.1 * i;
    weight[i] = 1;
  }
  value[18] = 9.0;
  assert_int_equal(cw_curve_fit(value, weight, N, 5.0, 0.2, curve), CW_OK);
  for (int i = 3; i < N - 3; i++) {
    assert_near(curve[i], 0.1 * i, 0.05);
  }
}

/// Gaussian elimination of the same equations, written out in full.
static void solve_in_full(double matrix[6][6], double *right)
{
  for (int i = 0; i < 6; i++) {
    for (int r = i + 1; r < 6; r++) {
      const double factor = matrix[r][i] / matrix[i][i];
      for (int c = i; c < 6; c++) {
        matrix[r][c] -= factor * matrix[i][c];
      }
      right[r] -= factor * right[i];
    }
  }
  for (int i = 5; i >= 0; i--) {
    for (int c = i + 1; c < 6; c++) {
      right[i] -= matrix[i][c] * right[c];
    }
    right[i] /= matrix[i][i];
  }
}

static void it_solves_whittaker_s_equations(void **state)
{
  (void)state;
  const double stiffness = 2.0;
  const double levelling = stiffness / (12.0 * 12.0); // as curve.c has it
  const double value[6] = {1, 4, 2, 8, 5, 7};
  const double weight[6] = {1, 2, 0.5, 1, 0, 3};
  double matrix[6][6] = {{0}};
  double right[6];
  for (int i = 0; i < 6; i++) {
    matrix[i][i] += weight[i];
    right[i] = weight[i] * value[i];
  }
  const double second[3] = {1, -2, 1};
  for (int d = 0; d + 2 < 6; d++) {
    for (int r = 0; r < 3; r++) {
      for (int c = 0; c < 3; c++) {
        matrix[d + r][d + c] += stiffness * second[r] * second[c];
      }
    }
  }
  for (int d = 0; d + 1 < 6; d++) {
    matrix[d][d] += levelling;
    matrix[d + 1][d + 1] += levelling;
    matrix[d][d + 1] -= levelling;
    matrix[d + 1][d] -= levelling;
  }
  solve_in_full(matrix, right);
  double curve[6];
  assert_int_equal(cw_curve_fit(value, weight, 6, stiffness, (double)INFINITY, curve), CW_OK);
  for (int i = 0; i < 6; i++) {
    assert_near(curve[i], right[i], 1e-6);
  }
}

static void short_curves_and_want_of_memory_are_no_trouble(void **state)
{
  (void)state;
  const double value[3] = {5, 6, 7};
  const double weight[3] = {1, 1, 1};
  double curve[3];
  for (size_t n = 1; n <= 3; n++) {
    assert_int_equal(cw_curve_fit(value, weight, n, 1e-9, 1.0, curve), CW_OK);
    assert_near(curve[0], 5.0, 1e-3);
    assert_near(curve[n - 1], value[n - 1], 1e-3);
  }
  cw_fail_after(0);
  assert_int_equal(cw_curve_fit(value, weight, 3, 1.0, 1.0, curve), CW_ERR_NO_MEM);
  cw_fail_after(-1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_straight_line_stays_itself),
      cmocka_unit_test(gaps_are_bridged_and_outliers_lose_their_say),
      cmocka_unit_test(it_solves_whittaker_s_equations),
      cmocka_unit_test(short_curves_and_want_of_memory_are_no_trouble),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
