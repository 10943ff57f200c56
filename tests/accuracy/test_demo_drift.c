// SPDX-License-Identifier: GPL-3.0-or-later
/// The demo dance, from the rehearsal to the performance: counts carried and drift, against the truth. The counts of the
/// rehearsal are the true ones, so that only the alignment is in question.
#include "accuracy/demo.h"
#include "accuracy/expect.h"
#include "accuracy/truth.h"
#include "countwright/drift.h"
#include "unit/cw_test.h"

static const double greatest_carry_error_s = 0.03; ///< mean over the counts

typedef struct {
  CwCountLine rehearsal, performance; ///< the truth
  CwTimeMap map;
} Demo;

static int read_demo(void **state)
{
  static Demo demo;
  *state = &demo;
  bool good = cw_true_line("demo-rehearsal", &demo.rehearsal) && cw_true_line("demo-performance", &demo.performance) &&
              cw_demo_align(&demo.map);
  return good ? 0 : -1;
}

static int free_demo(void **state)
{
  Demo *demo = *state;
  cw_time_map_free(&demo->map);
  cw_count_line_free(&demo->rehearsal);
  cw_count_line_free(&demo->performance);
  return 0;
}

static void nothing_is_cut_or_repeated(void **state)
{
  const Demo *demo = *state;
  assert_int_equal(demo->map.n_segments, 1);
}

static void counts_are_carried_to_the_performance(void **state)
{
  const Demo *demo = *state;
  CwCountLine carried = {0};
  assert_int_equal(cw_carry(&demo->rehearsal, &demo->map, &carried, NULL), CW_OK);
  double error_s = cw_demo_count_error("carried counts", &carried, &demo->performance);
  cw_count_line_free(&carried);
  assert_true(cw_at_most("demo", "mean error of carried counts in s", error_s, greatest_carry_error_s));
}

static void true_drift_is_that_of_the_true_tempi(void **state)
{
  const Demo *demo = *state;
  CwDrift truth = {0};
  assert_int_equal(cw_drift_by_lines(&demo->rehearsal, &demo->performance, &truth), CW_OK);
  assert_int_equal(truth.n, 19);
  // by hand, from the .ones files: phrase 2 lasts 21.653 - 13.609 s and 21.696 - 14.282 s
  assert_near(truth.row[1].percent, 100 * (8.044 / 7.414 - 1), 0.001);
  // phrase 5 begins 33.924 - 5.600 s and 33.653 - 6.707 s after the first one
  assert_near(truth.row[4].ahead_s, 28.324 - 26.946, 0.001);
  cw_drift_free(&truth);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(nothing_is_cut_or_repeated),
      cmocka_unit_test(counts_are_carried_to_the_performance),
      cmocka_unit_test(true_drift_is_that_of_the_true_tempi),
  };
  return cmocka_run_group_tests(tests, read_demo, free_demo);
}
