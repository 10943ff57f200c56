// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "dsp/change.h"
#include "unit/random.h"

enum { N_ROWS = 300 };

/// Sum of the rows from `from` to `to`; rows outside are zero.
static void add_rows(float row[N_ROWS][CW_CHANGE_WIDTH], long from, long to, double sum[CW_CHANGE_WIDTH])
{
  for (size_t k = 0; k < CW_CHANGE_WIDTH; k++) {
    sum[k] = 0;
    for (long i = from; i <= to; i++) {
      sum[k] += i >= 0 && i < N_ROWS ? (double)row[i][k] : 0.0;
    }
  }
}

static double dot(const double *a, const double *b)
{
  double sum = 0;
  for (size_t k = 0; k < CW_CHANGE_WIDTH; k++) {
    sum += a[k] * b[k];
  }
  return sum;
}

/// By the header: 1 - cosine of the sums on both sides of row `at`, without the rows next to it; 0 beside silence.
static double plain_change(float row[N_ROWS][CW_CHANGE_WIDTH], long at)
{
  double before[CW_CHANGE_WIDTH];
  double after[CW_CHANGE_WIDTH];
  add_rows(row, at - CW_CHANGE_REACH, at - CW_CHANGE_GAP, before);
  add_rows(row, at + CW_CHANGE_GAP, at + CW_CHANGE_REACH, after);
  const double size = sqrt(dot(before, before) * dot(after, after));
  return size > 0 ? 1.0 - dot(before, after) / size : 0.0;
}

static void the_change_is_that_of_the_sums_on_both_sides(void **state)
{
  (void)state;
  static float row[N_ROWS][CW_CHANGE_WIDTH];
  static CwChange change;
  uint64_t seed = 81;
  size_t likely = 0;
  for (size_t i = 0; i < N_ROWS; i++) {
    likely = i % 23 == 0 ? random_below(&seed, CW_CHANGE_WIDTH) : likely;
    for (size_t k = 0; k < CW_CHANGE_WIDTH; k++) {
      // a silence longer than both sides, too
      row[i][k] = i >= 120 && i < 220 ? 0.0F : (float)(random_share(&seed) + (k == likely ? 3.0 : 0.0));
    }
  }
  for (long i = 0; i < N_ROWS; i++) {
    float value = -1;
    const bool there = cw_change_push(&change, row[i], &value);
    assert_int_equal(there, i >= CW_CHANGE_REACH);
    if (there) {
      assert_near((double)value, plain_change(row, i - CW_CHANGE_REACH), 1e-6);
    }
  }
}

static void what_has_nothing_in_common_changes_wholly(void **state)
{
  (void)state;
  static CwChange change;
  float one[CW_CHANGE_WIDTH] = {2, 0};
  float other[CW_CHANGE_WIDTH] = {0, 5};
  float value = 0;
  float most = 0;
  int most_at = 0;
  for (int i = 0; i < 200; i++) {
    if (cw_change_push(&change, i < 100 ? one : other, &value) && value > most) {
      most = value;
      most_at = i - CW_CHANGE_REACH;
    }
  }
  assert_near((double)most, 1.0, 1e-6);
  assert_in_range(most_at, 100 - CW_CHANGE_GAP, 100 + CW_CHANGE_GAP);
  assert_near((double)value, 0.0, 1e-6); // long after
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_change_is_that_of_the_sums_on_both_sides),
      cmocka_unit_test(what_has_nothing_in_common_changes_wholly),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
