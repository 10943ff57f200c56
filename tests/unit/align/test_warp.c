// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>

#include "align/warp.h"
#include "base/memory.h"

typedef struct {
  const double *x, *y;
} Pair;

static void distance(const void *user, size_t i, size_t j, size_t n, float *cost)
{
  const Pair *pair = user;
  for (size_t k = 0; k < n; k++) {
    cost[k] = (float)fabs(pair->x[i] - pair->y[j + k]);
  }
}

static const CwWarpStep classic[] = {{1, 1, 1}, {1, 0, 1}, {0, 1, 1}};
static const CwWarpStep slanted[] = {{1, 1, 1}, {2, 1, 1}, {1, 2, 1}};

static void assert_path(const CwWarpPath *path, const CwWarpCell *wanted, size_t n)
{
  assert_int_equal(path->n, n);
  for (size_t c = 0; c < n; c++) {
    assert_int_equal(path->cell[c].a, wanted[c].a);
    assert_int_equal(path->cell[c].b, wanted[c].b);
  }
}

static void assert_matrix(const double *actual, const double *wanted, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    assert_near(actual[i], wanted[i], 1e-6);
  }
}

// Müller, Fundamentals of Music Processing (2015), chapter 3.2; numbers from memory, matrices computed with the book's
// own library (libfmp)
static const double book_x[] = {1, 3, 9, 2, 1};
static const double book_y[] = {2, 0, 0, 8, 7, 2};

static void the_book_s_example_is_reproduced(void **state)
{
  (void)state;
  const double wanted[] = {1, 2, 3,  10, 16, 17, 2,  4,  5, 8,  12, 13, 9,  11, 13,
                           6, 8, 15, 9,  11, 13, 12, 11, 8, 10, 10, 11, 18, 17, 9};
  const CwWarpCell cells[] = {{0, 0}, {0, 1}, {1, 2}, {2, 3}, {2, 4}, {3, 5}, {4, 5}};
  const CwWarpRules rules = {.step = classic, .n_steps = 3};
  const Pair pair = {book_x, book_y};
  double matrix[30];
  CwWarpPath path;
  assert_int_equal(cw_warp(5, 6, &rules, distance, &pair, matrix, &path), CW_OK);
  assert_matrix(matrix, wanted, 30);
  assert_near(path.cost, 9, 1e-9);
  assert_path(&path, cells, 7);
  free(path.cell);
}

static void the_book_s_slanted_steps_are_reproduced(void **state)
{
  (void)state;
  const CwWarpCell cells[] = {{0, 0}, {1, 2}, {2, 4}, {4, 5}};
  const CwWarpRules rules = {.step = slanted, .n_steps = 3};
  const Pair pair = {book_x, book_y};
  CwWarpPath path;
  assert_int_equal(cw_warp(5, 6, &rules, distance, &pair, NULL, &path), CW_OK);
  assert_near(path.cost, 7, 1e-9);
  assert_path(&path, cells, 4);
  free(path.cell);
}

static void the_book_s_subsequence_is_found(void **state)
{
  (void)state; // the same book, chapter 7.2; likewise
  const double x[] = {3, 0, 6};
  const double y[] = {2, 4, 0, 4, 0, 0, 5, 2};
  const double wanted[] = {1, 1, 3, 1, 3, 3, 2, 1, 3, 5, 1, 5, 1, 1, 6, 3, 7, 5, 7, 3, 7, 7, 2, 6};
  const CwWarpCell cells[] = {{0, 3}, {1, 4}, {1, 5}, {2, 6}};
  const CwWarpRules rules = {.step = classic, .n_steps = 3, .open_start = true, .open_end = true};
  const Pair pair = {x, y};
  double matrix[24];
  CwWarpPath path;
  assert_int_equal(cw_warp(3, 8, &rules, distance, &pair, matrix, &path), CW_OK);
  assert_matrix(matrix, wanted, 24);
  assert_near(path.cost, 2, 1e-9);
  assert_path(&path, cells, 4);
  free(path.cell);
}

static void a_band_that_holds_the_path_does_not_change_it(void **state)
{
  (void)state;
  const size_t low[] = {0, 1, 2, 3, 4};
  const size_t high[] = {3, 4, 5, 6, 6};
  const CwWarpRules rules = {.step = classic, .n_steps = 3, .low = low, .high = high};
  const CwWarpCell cells[] = {{0, 0}, {0, 1}, {1, 2}, {2, 3}, {2, 4}, {3, 5}, {4, 5}};
  const Pair pair = {book_x, book_y};
  CwWarpPath path;
  assert_int_equal(cw_warp(5, 6, &rules, distance, &pair, NULL, &path), CW_OK);
  assert_near(path.cost, 9, 1e-9);
  assert_path(&path, cells, 7);
  free(path.cell);
}

static void where_no_path_fits_it_is_told(void **state)
{
  (void)state;
  const size_t low[] = {0, 4, 4, 4, 4};
  const size_t high[] = {2, 6, 6, 6, 6};
  const CwWarpRules torn = {.step = classic, .n_steps = 3, .low = low, .high = high};
  const CwWarpRules steep = {.step = slanted, .n_steps = 3};
  const Pair pair = {book_x, book_y};
  CwWarpPath path;
  assert_int_equal(cw_warp(5, 6, &torn, distance, &pair, NULL, &path), CW_ERR_BAD_ARG);
  assert_int_equal(cw_warp(2, 6, &steep, distance, &pair, NULL, &path), CW_ERR_BAD_ARG);
  assert_int_equal(cw_warp(0, 6, &steep, distance, &pair, NULL, &path), CW_ERR_BAD_ARG);
  assert_null(path.cell);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  const CwWarpRules rules = {.step = classic, .n_steps = 3};
  const Pair pair = {book_x, book_y};
  CwWarpPath path;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = cw_warp(5, 6, &rules, distance, &pair, NULL, &path);
    cw_fail_after(-1);
    assert_true(status == CW_OK || path.cell == NULL);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 5);
  free(path.cell);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_book_s_example_is_reproduced),
      cmocka_unit_test(the_book_s_slanted_steps_are_reproduced),
      cmocka_unit_test(the_book_s_subsequence_is_found),
      cmocka_unit_test(a_band_that_holds_the_path_does_not_change_it),
      cmocka_unit_test(where_no_path_fits_it_is_told),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
