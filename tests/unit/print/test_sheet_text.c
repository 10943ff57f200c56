// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/print/captured.h"
#include "unit/print/samples.h"

static CwStatus print_40(const void *sheet, FILE *out)
{
  return cw_sheet_text(sheet, 40, out);
}

static CwStatus print_80(const void *sheet, FILE *out)
{
  return cw_sheet_text(sheet, 80, out);
}

static CwStatus print_0(const void *sheet, FILE *out)
{
  return cw_sheet_text(sheet, 0, out);
}

static void each_sheet_is_as_it_was_approved(void **state)
{
  (void)state;
  const SampleSheet *samples = NULL;
  const size_t n = sample_sheets(&samples);
  for (size_t i = 0; i < n; i++) {
    char name[96];
    snprintf(name, sizeof name, "%s-80.txt", samples[i].name);
    assert_prints_file(print_80, &samples[i].sheet, name);
  }
  assert_prints_file(print_40, sample_sheet("waltz"), "waltz-40.txt");
  assert_prints_file(print_40, sample_sheet("bare"), "bare-40.txt");
}

static void fewer_columns_than_forty_count_as_forty(void **state)
{
  (void)state;
  assert_prints_file(print_0, sample_sheet("waltz"), "waltz-40.txt");
}

static void full_memory_and_full_disk_are_told(void **state)
{
  (void)state;
  const SampleSheet *samples = NULL;
  const size_t n = sample_sheets(&samples);
  for (size_t i = 0; i < n; i++) {
    assert_bears_full_memory(print_80, &samples[i].sheet);
    assert_tells_full_disk(print_80, &samples[i].sheet);
  }
}

static void a_phrase_that_only_repeats_names_the_other_and_one_that_differs_shows_its_steps(void **state)
{
  (void)state;
  CwStep first[] = {{1, 1, "walk"}};
  CwStep changed[] = {{1, 1, "run"}};
  CwSheetRow row[] = {{.number = 1, .counts = 8, .step = first, .n_steps = 1, .confidence = -1},
                      {.number = 2, .counts = 8, .step = changed, .n_steps = 1, .like = 1, .confidence = -1}};
  const CwSheet sheet = {.row = row, .n_rows = 2, .first_one_s = NAN, .slowest_per_min = NAN, .fastest_per_min = NAN};
  size_t size = 0;
  char *text = NULL;
  capture(print_80, &sheet, &text, &size);
  assert_non_null(strstr(text, "run"));
  free(text);
  row[1].step = first;
  capture(print_80, &sheet, &text, &size);
  assert_non_null(strstr(text, "2  8 counts \u00b7 like 1"));
  const char *walk = strstr(text, "walk");
  assert_non_null(walk);
  assert_null(strstr(walk + 1, "walk"));
  free(text);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_sheet_is_as_it_was_approved),
      cmocka_unit_test(fewer_columns_than_forty_count_as_forty),
      cmocka_unit_test(full_memory_and_full_disk_are_told),
      cmocka_unit_test(a_phrase_that_only_repeats_names_the_other_and_one_that_differs_shows_its_steps),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
