// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "countwright/phrases.h"
#include "unit/random.h"

/// J. Foote, Automatic audio segmentation using a measure of audio novelty (ICME 2000): the smallest checkerboard
/// kernel, [[1 -1] [-1 1]], along the diagonal of two 3 x 3 blocks of ones; worked by hand. (He has +1 and -1 the same
/// way, and his example of two blocks is of other sizes.)
static void the_smallest_kernel_on_two_blocks_gives_footes_numbers(void **state)
{
  (void)state;
  static const float row[6][2] = {{1, 0}, {1, 0}, {1, 0}, {0, 1}, {0, 1}, {0, 1}};
  static const double wanted[6] = {0, 0, 0, 2, 0, 0};
  double novelty[6];
  cw_novelty(row[0], 6, 2, 1, false, novelty);
  for (size_t i = 0; i < 6; i++) {
    assert_near(novelty[i], wanted[i], 1e-12);
  }
}

static void a_wider_kernel_peaks_at_the_boundary(void **state)
{
  (void)state;
  static const float row[8][2] = {{1, 0}, {1, 0}, {1, 0}, {1, 0}, {0, 1}, {0, 1}, {0, 1}, {0, 1}};
  double novelty[8];
  cw_novelty(row[0], 8, 2, 2, false, novelty);
  assert_near(novelty[4], 8.0, 1e-12); // all 4 + 4 ones on the diagonal's blocks, none across
  assert_near(novelty[3], 2.0, 1e-12); // by hand: 4 + 2 - 2 * 2
  assert_near(novelty[5], 2.0, 1e-12);
  assert_near(novelty[2], 0.0, 1e-12);
}

/// The kernel's sum over the self-similarity matrix, as it is defined.
static double plain_novelty(const float *vector, long n, long width, long half, bool taper, long at)
{
  double sum = 0;
  for (long a = -half; a < half; a++) {
    for (long b = -half; b < half; b++) {
      double weight = (a < 0) == (b < 0) ? 1.0 : -1.0;
      if (taper) { // e^-2 at the edge
        const double x = ((double)a + 0.5) / (double)half;
        const double y = ((double)b + 0.5) / (double)half;
        weight *= exp(-2 * (x * x + y * y));
      }
      const bool inside = at + a >= 0 && at + b >= 0 && at + a < n && at + b < n;
      for (long k = 0; inside && k < width; k++) {
        sum += weight * (double)vector[(at + a) * width + k] * (double)vector[(at + b) * width + k];
      }
    }
  }
  return sum;
}

static void every_kernel_gives_the_sum_by_its_definition(void **state)
{
  (void)state;
  enum { N = 40, WIDTH = 5 };
  float vector[N * WIDTH];
  double novelty[N];
  uint64_t seed = 51;
  for (size_t i = 0; i < N * WIDTH; i++) {
    vector[i] = (float)random_between(&seed, -1, 1);
  }
  for (size_t half = 1; half <= 50; half += half < 6 ? 1 : 11) {
    for (int taper = 0; taper < 2; taper++) {
      cw_novelty(vector, N, WIDTH, half, taper, novelty);
      assert_near(novelty[0], 0, 0);
      for (size_t i = 1; i < N; i++) {
        assert_near(novelty[i], plain_novelty(vector, N, WIDTH, (long)half, taper, (long)i), 1e-9);
      }
    }
  }
}

static void the_same_backwards_gives_the_same_backwards(void **state)
{
  (void)state;
  enum { N = 30 };
  float there[N];
  float back[N];
  double novelty[N];
  double backwards[N];
  uint64_t seed = 52;
  for (size_t i = 0; i < N; i++) {
    there[i] = back[N - 1 - i] = (float)random_between(&seed, -1, 1);
  }
  cw_novelty(there, N, 1, 4, true, novelty);
  cw_novelty(back, N, 1, 4, true, backwards);
  for (size_t i = 1; i < N; i++) {
    assert_near(backwards[N - i], novelty[i], 1e-9);
  }
}

static void none_and_one_row_have_no_novelty(void **state)
{
  (void)state;
  const float row[2] = {1, 2};
  double novelty = 7;
  cw_novelty(row, 0, 2, 1, true, &novelty);
  assert_near(novelty, 7, 0); // not touched
  cw_novelty(row, 1, 2, 1, true, &novelty);
  assert_near(novelty, 0, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_smallest_kernel_on_two_blocks_gives_footes_numbers),
      cmocka_unit_test(a_wider_kernel_peaks_at_the_boundary),
      cmocka_unit_test(every_kernel_gives_the_sum_by_its_definition),
      cmocka_unit_test(the_same_backwards_gives_the_same_backwards),
      cmocka_unit_test(none_and_one_row_have_no_novelty),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
