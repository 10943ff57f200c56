// SPDX-License-Identifier: GPL-3.0-or-later
// The sheet as PDF and the chart of drift. What stands on the pages is checked by check_pdf.py.
#include "unit/print/captured.h"
#include "unit/print/samples.h"

#include "print/axis.h"

static CwStatus a4(const void *sheet, FILE *out)
{
  return cw_sheet_pdf(sheet, &(CwPage){0}, out);
}

static CwStatus letter(const void *sheet, FILE *out)
{
  return cw_sheet_pdf(sheet, &(CwPage){.paper = CW_PAPER_LETTER}, out);
}

static CwStatus svg(const void *drift, FILE *out)
{
  return cw_drift_chart(drift, CW_CHART_SVG, out);
}

static CwStatus pdf(const void *drift, FILE *out)
{
  return cw_drift_chart(drift, CW_CHART_PDF, out);
}

static CwStatus png(const void *drift, FILE *out)
{
  return cw_drift_chart(drift, CW_CHART_PNG, out);
}

static void assert_same_twice(Printing print, const void *subject, const char *beginning)
{
  char *first = NULL;
  char *second = NULL;
  size_t first_size = 0;
  size_t second_size = 0;
  capture(print, subject, &first, &first_size);
  capture(print, subject, &second, &second_size);
  assert_int_equal(first_size, second_size);
  assert_memory_equal(first, second, first_size);
  assert_memory_equal(first, beginning, strlen(beginning));
  free(first);
  free(second);
}

static void the_same_sheet_gives_the_same_file(void **state)
{
  (void)state;
  assert_same_twice(a4, sample_sheet("waltz"), "%PDF-1.");
  assert_same_twice(letter, sample_sheet("empty"), "%PDF-1.");
  assert_same_twice(pdf, sample_drift(), "%PDF-1.");
  assert_same_twice(png, sample_drift(), "\x89PNG\r\n");
}

static void full_disk_is_told(void **state)
{
  (void)state;
  assert_tells_full_disk(a4, sample_sheet("empty"));
  assert_tells_full_disk(a4, sample_sheet("hard"));
  assert_tells_full_disk(letter, sample_of_phrases(300));
  assert_tells_full_disk(svg, sample_drift());
  assert_tells_full_disk(pdf, sample_drift());
  assert_tells_full_disk(png, sample_drift());
}

static void full_memory_is_told(void **state)
{
  (void)state;
  assert_bears_full_memory(a4, sample_sheet("waltz"));
  assert_bears_full_memory(svg, sample_drift());
  assert_bears_full_memory(svg, sample_many(9));
}

static void a_drift_without_numbers_is_drawn_empty(void **state)
{
  (void)state;
  CwDriftRow row[2] = {
      {1, 8, false, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN},
      {2, 8, true, INFINITY, NAN, NAN, NAN, INFINITY, -INFINITY, INFINITY, NAN},
  };
  for (size_t n = 0; n <= 2; n++) {
    const CwDriftOther other = {"b", {row, n}, NULL};
    const CwDriftOther others[] = {other, other, other, other, other, other};
    const CwDriftTable table = {"a", others, 1, NULL, NULL};
    const CwDriftTable many = {"a", others, 6, NULL, NULL};
    assert_same_twice(png, &table, "\x89PNG\r\n");
    assert_same_twice(png, &many, "\x89PNG\r\n");
  }
}

static void assert_axis(CwAxis axis, double low, double high, double step, int digits)
{
  assert_near(axis.low, low, 1e-9);
  assert_near(axis.high, high, 1e-9);
  assert_near(axis.step, step, 1e-9);
  assert_int_equal(axis.digits, digits);
}

static void axes_have_round_numbers_that_hold_the_values(void **state)
{
  (void)state;
  assert_axis(cw_axis(48.6, 64.0, 6), 45, 65, 5, 0);
  assert_axis(cw_axis(0, 10, 5), 0, 10, 2, 0);
  assert_axis(cw_axis(-0.31, 0.27, 6), -0.4, 0.3, 0.1, 1);
  assert_axis(cw_axis(57, 57, 6), 56, 58, 0.5, 1);
  assert_axis(cw_axis(INFINITY, -INFINITY, 6), 0, 1, 0.2, 1);
  assert_axis(cw_axis(0, 90000, 6), 0, 100000, 20000, 0);
  assert_axis(cw_axis_whole(0, 7, 30), 0, 7, 1, 0);
  assert_axis(cw_axis_whole(0, 120, 12), 0, 120, 10, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_same_sheet_gives_the_same_file),
      cmocka_unit_test(full_disk_is_told),
      cmocka_unit_test(full_memory_is_told),
      cmocka_unit_test(a_drift_without_numbers_is_drawn_empty),
      cmocka_unit_test(axes_have_round_numbers_that_hold_the_values),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
