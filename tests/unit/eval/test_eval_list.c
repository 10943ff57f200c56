// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "eval/list.h"

static CwList parse(const char *text, CwListKind kind)
{
  CwList list;
  CwListFault fault;
  const CwStatus status = cw_eval_list_parse(text, strlen(text), kind, &list, &fault);
  if (status != CW_OK) {
    print_error("%zu:%zu: %s\n", fault.line, fault.column, fault.message);
  }
  assert_int_equal(status, CW_OK);
  return list;
}

static void beats_have_times_and_some_are_downbeats(void **state)
{
  (void)state;
  CwList list = parse("# truth\n\n0.5\tdb\n1.25\tb\r\n 2 2\n\t2.5 1 extra\n2.5\tdbx\n3.75", CW_LIST_BEATS);
  const double time_s[] = {0.5, 1.25, 2, 2.5, 2.5, 3.75};
  const bool downbeat[] = {true, false, false, true, false, false};
  assert_int_equal(list.n, 6);
  for (size_t i = 0; i < list.n; i++) {
    assert_true(list.item[i].time_s == time_s[i]);
    assert_int_equal(list.item[i].downbeat, downbeat[i]);
  }
  cw_eval_list_free(&list);
}

static void an_empty_text_is_an_empty_list(void **state)
{
  (void)state;
  CwList list = parse("", CW_LIST_BEATS);
  assert_int_equal(list.n, 0);
  cw_eval_list_free(&list);
  list = parse("\n \n#\n", CW_LIST_COUNTS);
  assert_int_equal(list.n, 0);
  cw_eval_list_free(&list);
}

static void ones_may_have_numbers_and_counts_have_all(void **state)
{
  (void)state;
  CwList ones = parse("1.5\t1\t8\n2.5\n3.5\t3\n4.5\tdb\n", CW_LIST_ONES);
  assert_int_equal(ones.n, 4);
  assert_int_equal(ones.item[0].number, 1);
  assert_int_equal(ones.item[1].number, 0);
  assert_int_equal(ones.item[2].number, 3);
  assert_int_equal(ones.item[3].number, 0);
  cw_eval_list_free(&ones);
  CwList counts = parse("1.5\t2\t1\t0.125\n2.5\t2\t2\t-\n", CW_LIST_COUNTS);
  assert_int_equal(counts.n, 2);
  assert_int_equal(counts.item[1].number, 2);
  assert_int_equal(counts.item[1].count, 2);
  assert_true(counts.item[0].confidence == 0.125);
  assert_true(isnan(counts.item[1].confidence));
  cw_eval_list_free(&counts);
}

/// The outside here is the C library's own reading, in the C locale.
static void numbers_are_read_as_by_strtod(void **state)
{
  (void)state;
  static const char *const number[] = {
      "0",   "5.57",  "0.07",         "+1.5",    "-2.25",     "1e2",           "1.1467e+01",       "3E-3",
      ".5",  "7.",    "12.345678",    "00012.5", "29999.999", "0.00000000001", "1234.56789012345", "10.3",
      "0.1", "2.675", "16383.9999999"};
  for (size_t i = 0; i < sizeof number / sizeof number[0]; i++) {
    CwList list = parse(number[i], CW_LIST_BEATS);
    assert_true(list.item[0].time_s == strtod(number[i], NULL));
    cw_eval_list_free(&list);
  }
  srand(7);
  for (int i = 0; i < 20000; i++) {
    char text[32];
    snprintf(text, sizeof text, "%d.%0*d", rand() % 30000, 1 + i % 9, rand() % 10);
    CwList list = parse(text, CW_LIST_BEATS);
    assert_true(list.item[0].time_s == strtod(text, NULL));
    cw_eval_list_free(&list);
  }
}

static void what_is_wrong_is_told_with_its_place(void **state)
{
  (void)state;
  static const struct {
    const char *text;
    CwListKind kind;
    size_t line, column;
    const char *message;
  } bad[] = {
      {"1.0\nx\n", CW_LIST_BEATS, 2, 1, "expected a time in seconds, found 'x'"},
      {"1.0\n\n  1:02.5\tdb\n", CW_LIST_BEATS, 3, 3, "expected a time in seconds, found '1:02.5'"},
      {"1,5\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found '1,5'"},
      {"nan\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found 'nan'"},
      {"inf\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found 'inf'"},
      {"0x10\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found '0x10'"},
      {"1.2.3\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found '1.2.3'"},
      {"-\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found '-'"},
      {"1e\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found '1e'"},
      {"1e99\n", CW_LIST_BEATS, 1, 1, "expected a time in seconds, found '1e99'"},
      {"61234\n", CW_LIST_BEATS, 1, 1, "'61234' is over 30000: are these seconds?"},
      {"2\tdb\n 1.5\tb\n", CW_LIST_BEATS, 2, 2, "1.500 goes back behind 2.000: times must be in order"},
      {"2\tb\n", CW_LIST_COUNTS, 1, 3, "expected the number of a phrase, found 'b'"},
      {"2\t0\n", CW_LIST_COUNTS, 1, 3, "expected the number of a phrase, found '0'"},
      {"2\t1.5\n", CW_LIST_COUNTS, 1, 3, "expected the number of a phrase, found '1.5'"},
      {"2\n", CW_LIST_COUNTS, 1, 2, "expected the number of a phrase, found ''"},
      {"2\t1\n", CW_LIST_COUNTS, 1, 4, "expected a count, found ''"},
      {"2\t1\t1\t1.5\n", CW_LIST_COUNTS, 1, 7, "expected a confidence from 0 to 1 or '-', found '1.5'"},
      {"2\t1\t1\n", CW_LIST_COUNTS, 1, 6, "expected a confidence from 0 to 1 or '-', found ''"},
      {"abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyz\n", CW_LIST_BEATS, 1, 1,
       "expected a time in seconds, found 'abcdefghijklmnopqrstuvwxyzabcdefghijklmn'"},
  };
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    CwList list;
    CwListFault fault;
    assert_int_equal(cw_eval_list_parse(bad[i].text, strlen(bad[i].text), bad[i].kind, &list, &fault), CW_ERR_SYNTAX);
    assert_string_equal(fault.message, bad[i].message);
    assert_int_equal(fault.line, bad[i].line);
    assert_int_equal(fault.column, bad[i].column);
    assert_int_equal(list.n, 0);
    assert_null(list.item);
  }
}

static unsigned metre_of(const char *text)
{
  CwList list = parse(text, CW_LIST_BEATS);
  const unsigned metre = cw_eval_metre(&list);
  cw_eval_list_free(&list);
  return metre;
}

static void metre_is_what_nine_bars_in_ten_have(void **state)
{
  (void)state;
  assert_int_equal(metre_of("1 b\n2 db\n3 b\n4 b\n5 db\n6 b\n7 b\n8 db\n9 b\n"), 3);
  assert_int_equal(metre_of("1 db\n2 b\n3 db\n4 b\n5 b\n6 db\n"), 0);
  assert_int_equal(metre_of("1 b\n2 b\n"), 0);
  assert_int_equal(metre_of("1 db\n2 b\n"), 0);
  assert_int_equal(metre_of(""), 0);
  assert_int_equal(metre_of("1 db\n2 db\n3 db\n"), 1);
  char text[512] = "0 db\n"; // nine bars of four, one of two
  for (int beat = 1; beat <= 38; beat++) {
    const bool downbeat = beat < 37 ? beat % 4 == 0 : beat == 38;
    snprintf(text + strlen(text), sizeof text - strlen(text), "%d %s\n", beat, downbeat ? "db" : "b");
  }
  assert_int_equal(metre_of(text), 4);
}

static void memory_that_runs_out_is_reported(void **state)
{
  (void)state;
  CwList list;
  CwListFault fault;
  cw_fail_after(0);
  const CwStatus status = cw_eval_list_parse("1\n", 2, CW_LIST_BEATS, &list, &fault);
  cw_fail_after(-1);
  assert_int_equal(status, CW_ERR_NO_MEM);
  assert_null(list.item);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(beats_have_times_and_some_are_downbeats),
      cmocka_unit_test(an_empty_text_is_an_empty_list),
      cmocka_unit_test(ones_may_have_numbers_and_counts_have_all),
      cmocka_unit_test(numbers_are_read_as_by_strtod),
      cmocka_unit_test(what_is_wrong_is_told_with_its_place),
      cmocka_unit_test(metre_is_what_nine_bars_in_ten_have),
      cmocka_unit_test(memory_that_runs_out_is_reported),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
