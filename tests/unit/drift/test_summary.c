// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/drift/hand_made.h"

#include "base/memory.h"

static void assert_said(const CwCountLine *a, const CwTimeMap *map, const char *const *wanted, size_t n)
{
  CwDrift drift;
  CwMessages messages = {0};
  assert_int_equal(cw_drift_by_map(a, map, &drift), CW_OK);
  assert_int_equal(cw_drift_summary(&drift, map, &messages), CW_OK);
  for (size_t i = 0; i < messages.n && i < n; i++) {
    assert_string_equal(messages.text[i], wanted[i]);
  }
  assert_int_equal(messages.n, n);
  cw_messages_free(&messages);
  cw_drift_free(&drift);
}

static void the_largest_differences_are_said_first(void **state)
{
  (void)state;
  CwCountLine a = even_line(8); // 10 to 42
  const CwTimeMap map =
      MAP(SEGMENT({0, 0}, {14, 14}, {22, 21.68}, {26, 25.68}, {30, 29}, {34, 33}, {38, 38}, {60, 60}));
  const char *const wanted[] = {
      "the second recording is faster in phrase 5 (0:26.0 to 0:30.0): 20 %",
      "the second recording is slower in phrase 7 (0:34.0 to 0:38.0): 20 %",
      "the second recording is a little faster in phrases 2-3 (0:14.0 to 0:22.0): 4.2 %",
  };
  assert_said(&a, &map, wanted, 3);
  cw_count_line_free(&a);
}

static void a_phrase_that_stands_out_is_named(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {10, 10}, {14, 13.8}, {18, 17}, {22, 20.8}, {60, 58.8}));
  const char *const wanted[] = {
      "the second recording is faster in phrases 1-3 (0:10.0 to 0:22.0): 11 %, most in phrase 2: 25 %",
      "at the one of phrase 4 the second recording is 1.2 s ahead",
  };
  assert_said(&a, &map, wanted, 2);
  cw_count_line_free(&a);
}

static void what_cannot_be_noticed_is_the_same(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {10, 10}, {22, 22.27}, {60, 60.27}));
  const char *const wanted[] = {"the tempo is the same throughout",
                                "at the one of phrase 4 the second recording is 0.3 s behind"};
  assert_said(&a, &map, wanted, 2);
  cw_count_line_free(&a);
}

static void cuts_repeats_and_insertions_are_said(void **state)
{
  (void)state;
  CwCountLine a = even_line(10); // ones at 10 14 18 22 26 30 34 38 42 46
  // phrases 3-4 cut, phrases 5-6 twice, eight seconds of something else before phrase 9
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {18, 18}), SEGMENT({26, 18}, {34, 26}), SEGMENT({26, 26}, {42, 42}),
                            SEGMENT({42, 50}, {60, 68}));
  const char *const wanted[] = {
      "the tempo is the same throughout",
      "at the one of phrase 10 the second recording is 8.0 s behind",
      "the second recording leaves out phrases 3-4 (0:18.0 to 0:26.0)",
      "the second recording repeats phrases 5-6 (0:26.0 to 0:34.0, again at 0:26.0 of the second)",
      "the second recording has 8.0 s that the first lacks (0:42.0 to 0:50.0 of the second)",
  };
  assert_said(&a, &map, wanted, 5);
  cw_count_line_free(&a);
}

static void the_beginning_and_the_end_may_be_missing(void **state)
{
  (void)state;
  CwCountLine a = even_line(4); // 10 to 26
  const CwTimeMap map = MAP(SEGMENT({14, 0}, {22, 8}));
  const char *const wanted[] = {
      "the tempo is the same throughout",
      "the second recording leaves out phrase 1 (0:10.0 to 0:14.0)",
      "the second recording leaves out phrase 4 (0:22.0 to 0:26.0)",
  };
  assert_said(&a, &map, wanted, 3);
  cw_count_line_free(&a);
}

static void lines_alone_have_no_cuts_to_tell(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  CwCountLine b = even_line(2);
  CwDrift drift;
  CwMessages messages = {0};
  assert_int_equal(cw_drift_by_lines(&a, &b, &drift), CW_OK);
  assert_int_equal(cw_drift_summary(&drift, NULL, &messages), CW_OK);
  assert_int_equal(messages.n, 1);
  assert_string_equal(messages.text[0], "the tempo is the same throughout");
  cw_messages_free(&messages);
  cw_drift_free(&drift);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

/// Carry, drift and summary. @return The first error.
static CwStatus all_once(const CwCountLine *a, const CwTimeMap *map)
{
  CwCountLine b = {0};
  CwDrift drift = {0};
  CwMessages messages = {0};
  CwStatus status = cw_carry(a, map, &b, NULL);
  assert_true(status == CW_OK || b.count_s == NULL);
  if (!status) {
    status = cw_drift_by_map(a, map, &drift);
    assert_true(status == CW_OK || drift.row == NULL);
  }
  if (!status) {
    status = cw_drift_summary(&drift, map, &messages);
  }
  cw_drift_free(&drift);
  if (!status) {
    status = cw_drift_by_lines(a, &b, &drift);
    assert_true(status == CW_OK || drift.row == NULL);
  }
  cw_drift_free(&drift);
  cw_messages_free(&messages);
  cw_count_line_free(&b);
  return status;
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {14, 15}), SEGMENT({18, 15}, {26, 23}));
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = all_once(&a, &map);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 10);
  cw_drift_free(NULL);
  cw_time_map_free(NULL);
  cw_align_features_free(NULL);
  cw_count_line_free(&a);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_largest_differences_are_said_first),
      cmocka_unit_test(a_phrase_that_stands_out_is_named),
      cmocka_unit_test(what_cannot_be_noticed_is_the_same),
      cmocka_unit_test(cuts_repeats_and_insertions_are_said),
      cmocka_unit_test(the_beginning_and_the_end_may_be_missing),
      cmocka_unit_test(lines_alone_have_no_cuts_to_tell),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
