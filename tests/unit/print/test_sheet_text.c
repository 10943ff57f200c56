// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/print/captured.h"
#include "unit/print/samples.h"

#include "print/wrap.h"

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

static void assert_narrow(const char *text, unsigned columns)
{
  while (*text) {
    const size_t length = strcspn(text, "\n");
    assert_true(cw_text_width(text, length) <= columns);
    text += length + 1;
  }
}

static void assert_holds_words(const char *text, const char *words)
{
  while (*words) {
    char word[64];
    const size_t length = strcspn(words, " ");
    assert_true(length < sizeof word);
    memcpy(word, words, length);
    word[length] = '\0';
    assert_non_null(strstr(text, word));
    words += length + (words[length] == ' ');
  }
}

static void no_word_is_lost_and_no_line_too_wide_whatever_the_steps(void **state)
{
  (void)state;
  for (unsigned columns = 40; columns < 140; columns += 3) {
    const CwSheet *sheet = sample_random(columns);
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_int_equal(cw_sheet_text(sheet, columns, out), CW_OK);
    fclose(out);
    assert_narrow(text, columns);
    for (size_t i = 0; i < sheet->n_rows; i++) {
      for (size_t k = 0; k < sheet->row[i].n_steps; k++) {
        assert_holds_words(text, sheet->row[i].step[k].text);
      }
    }
    free(text);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_sheet_is_as_it_was_approved),
      cmocka_unit_test(fewer_columns_than_forty_count_as_forty),
      cmocka_unit_test(full_memory_and_full_disk_are_told),
      cmocka_unit_test(no_word_is_lost_and_no_line_too_wide_whatever_the_steps),
      cmocka_unit_test(a_phrase_that_only_repeats_names_the_other_and_one_that_differs_shows_its_steps),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
