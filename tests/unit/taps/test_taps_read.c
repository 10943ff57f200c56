// SPDX-License-Identifier: GPL-3.0-or-later
/// Taps as text.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/taps.h"
#include "unit/cw_test.h"

static CwTaps parse(const char *text)
{
  CwTaps taps;
  assert_int_equal(cw_taps_parse(text, strlen(text), &taps), CW_OK);
  return taps;
}

static void times_are_read_a_line_each(void **state)
{
  (void)state;
  CwTaps taps = parse("# second eight\n\n 1.5 \r\n0:02,25\t# late\n1:01:00\n");
  assert_int_equal(taps.n_diagnostics, 0);
  assert_int_equal(taps.n, 3);
  assert_near(taps.time_s[0], 1.5, 1e-12);
  assert_near(taps.time_s[1], 2.25, 1e-12);
  assert_near(taps.time_s[2], 3660, 1e-12);
  cw_taps_free(&taps);
}

static void taps_come_in_order_of_time(void **state)
{
  (void)state;
  CwTaps taps = parse("3\n1\n2");
  assert_int_equal(taps.n, 3);
  for (size_t i = 0; i < 3; i++) {
    assert_near(taps.time_s[i], (double)i + 1.0, 1e-12);
  }
  cw_taps_free(&taps);
}

static void assert_wrong(const char *text, size_t line, size_t column, const char *said)
{
  CwTaps taps = parse(text);
  assert_int_equal(taps.n_diagnostics, 1);
  assert_int_equal(taps.diagnostic[0].line, line);
  assert_int_equal(taps.diagnostic[0].column, column);
  assert_string_equal(taps.diagnostic[0].text, said);
  cw_taps_free(&taps);
}

static void a_line_that_is_no_time_is_named(void **state)
{
  (void)state;
  assert_wrong("1\n2\n  now\n3\n", 3, 3, "expected a time, found 'now'");
  assert_wrong("1.5 2.5\n", 1, 5, "expected a time, found '2.5'");
  assert_wrong("-1\n", 1, 1, "expected a time, found '-1'");
  assert_wrong("1\nzw\xc3\xb6lf: 1", 2, 1, "expected a time, found 'zw\xc3\xb6lf: 1'");
  assert_wrong("1 \xc3\xb6 2", 1, 3, "expected a time, found '\xc3\xb6 2'");
}

static void the_other_lines_still_count(void **state)
{
  (void)state;
  CwTaps taps = parse("1\nx\n2\ny\n3");
  assert_int_equal(taps.n, 3);
  assert_int_equal(taps.n_diagnostics, 2);
  assert_int_equal(taps.diagnostic[1].line, 4);
  cw_taps_free(&taps);
}

static void nothing_at_all_is_no_taps(void **state)
{
  (void)state;
  CwTaps taps = parse("");
  assert_int_equal(taps.n + taps.n_diagnostics, 0);
  cw_taps_free(&taps);
  cw_taps_free(NULL);
  static const char bytes[] = {'1', '\0', '2', '\n', '3'}; // a NUL is no end
  assert_int_equal(cw_taps_parse(bytes, sizeof bytes, &taps), CW_OK);
  assert_int_equal(taps.n, 1);
  assert_int_equal(taps.n_diagnostics, 1);
  cw_taps_free(&taps);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  static const char text[] = "1\n2\n3\n4\n5\nbad\n6\n7\n8\n9\nworse\n";
  CwTaps taps;
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = cw_taps_parse(text, sizeof text - 1, &taps);
    cw_fail_after(-1);
    if (status != CW_OK) {
      assert_int_equal(taps.n + taps.n_diagnostics, 0);
      assert_null(taps.time_s);
    }
  }
  assert_int_equal(taps.n, 9);
  cw_taps_free(&taps);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(times_are_read_a_line_each),      cmocka_unit_test(taps_come_in_order_of_time),
      cmocka_unit_test(a_line_that_is_no_time_is_named), cmocka_unit_test(the_other_lines_still_count),
      cmocka_unit_test(nothing_at_all_is_no_taps),       cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
