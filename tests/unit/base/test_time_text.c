// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <locale.h>

#include "base/format.h"
#include "countwright/time_text.h"

static void times_are_written_in_tenths(void **state)
{
  (void)state;
  static const struct {
    double seconds;
    const char *text;
  } row[] = {
      {0, "0:00.0"},     {62.35, "1:02.4"}, {59.97, "1:00.0"},       {3599.94, "59:59.9"}, {3599.96, "1:00:00.0"},
      {-3.0, "-0:03.0"}, {-0.01, "0:00.0"}, {36061.2, "10:01:01.2"}, {NAN, "-"},           {INFINITY, "-"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    char out[24];
    cw_format_time(row[i].seconds, out);
    assert_string_equal(out, row[i].text);
  }
}

static void times_are_read_in_each_spelling(void **state)
{
  (void)state;
  static const struct {
    const char *text;
    double seconds;
    int used;
  } row[] = {
      {"1:02.35", 62.35, 7},    {"62.35 x", 62.35, 5}, {"62", 62, 2}, {"1:02,35", 62.35, 7},
      {"1:01:02.5", 3662.5, 9}, {"0:06", 6, 4},        {"5.", 5, 1},  {"7:", 7, 1},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const char *end = NULL;
    assert_near(cw_parse_time(row[i].text, &end), row[i].seconds, 1e-9);
    assert_int_equal(end - row[i].text, row[i].used);
  }
  assert_true(isnan(cw_parse_time("x", NULL)));
  assert_true(isnan(cw_parse_time("", NULL)));
  assert_true(isnan(cw_parse_time("1:75", NULL)));
}

static void numbers_ignore_the_locale(void **state)
{
  (void)state;
  char out[32];
  setlocale(LC_ALL, "de_DE.UTF-8"); // has no effect where that locale is not installed
  assert_string_equal(cw_format_fixed(out, sizeof out, 1.5, 3), "1.500");
  assert_string_equal(cw_format_fixed(out, sizeof out, -0.0004, 3), "0.000");
  assert_string_equal(cw_format_fixed(out, sizeof out, -12.3456, 2), "-12.35");
  assert_string_equal(cw_format_fixed(out, sizeof out, 7.6, 0), "8");
  assert_string_equal(cw_format_fixed(out, sizeof out, NAN, 3), "nan");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(times_are_written_in_tenths),
      cmocka_unit_test(times_are_read_in_each_spelling),
      cmocka_unit_test(numbers_ignore_the_locale),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
