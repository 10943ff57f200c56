// SPDX-License-Identifier: GPL-3.0-or-later
/// The demo dance, from the rehearsal to the performance: counts carried and drift, against the truth. The counts of the
/// rehearsal are the true ones, so that only the alignment is in question.
#include "accuracy/demo.h"
#include "accuracy/expect.h"
#include "accuracy/truth.h"
#include "countwright/drift.h"
#include "unit/cw_test.h"

static const double greatest_carry_error_s = 0.03; ///< mean over the counts
static const double greatest_drift_error = 0.5;    ///< in percent of the tempo, for every phrase
static const double greatest_ahead_error_s = 0.1;  ///< for every phrase

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

/// Check a row of drift against that of the true count lines.
static bool row_is_true(const CwDriftRow *row, const CwDriftRow *truth)
{
  print_message("phrase %u: drift %.2f %%, true %.2f %%; ahead %.3f s, true %.3f s\n", row->number, row->percent,
                truth->percent, row->ahead_s, truth->ahead_s);
  bool good =
      cw_at_most("demo", "error of drift in percent", fabs(row->percent - truth->percent), greatest_drift_error);
  return cw_at_most("demo", "error of seconds ahead", fabs(row->ahead_s - truth->ahead_s), greatest_ahead_error_s) &&
         good;
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

static void drift_is_that_of_the_truth(void **state)
{
  const Demo *demo = *state;
  CwDrift drift = {0}, truth = {0};
  assert_int_equal(cw_drift_by_map(&demo->rehearsal, &demo->map, &drift), CW_OK);
  assert_int_equal(cw_drift_by_lines(&demo->rehearsal, &demo->performance, &truth), CW_OK);
  assert_int_equal(drift.n, truth.n);
  bool good = true;
  for (size_t k = 0; k < drift.n; k++)
    good = row_is_true(&drift.row[k], &truth.row[k]) && good;
  cw_drift_free(&drift);
  cw_drift_free(&truth);
  assert_true(good);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(nothing_is_cut_or_repeated),
      cmocka_unit_test(counts_are_carried_to_the_performance),
      cmocka_unit_test(true_drift_is_that_of_the_true_tempi),
      cmocka_unit_test(drift_is_that_of_the_truth),
  };
  return cmocka_run_group_tests(tests, read_demo, free_demo);
}
