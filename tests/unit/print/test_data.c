// SPDX-License-Identifier: GPL-3.0-or-later
// JSON, CSV and the text of drift. That JSON follows its schemas and CSV reads back is checked by check_json.py and
// check_csv.py.
#include "unit/print/captured.h"
#include "unit/print/samples.h"

#include <locale.h>

static CwStatus sheet_json(const void *subject, FILE *out)
{
  return cw_sheet_json(subject, out);
}

static CwStatus sheet_csv(const void *subject, FILE *out)
{
  return cw_sheet_csv(subject, out);
}

static CwStatus line_json(const void *subject, FILE *out)
{
  return cw_count_line_json(subject, NULL, "take 1.wav", out);
}

static CwStatus line_csv(const void *subject, FILE *out)
{
  return cw_count_line_csv(subject, NULL, out);
}

static CwStatus drift_json(const void *subject, FILE *out)
{
  return cw_drift_json(subject, out);
}

static CwStatus drift_csv(const void *subject, FILE *out)
{
  return cw_drift_csv(subject, out);
}

static CwStatus drift_80(const void *subject, FILE *out)
{
  return cw_drift_text(subject, 80, out);
}

static CwStatus drift_40(const void *subject, FILE *out)
{
  return cw_drift_text(subject, 40, out);
}

static void drift_is_as_it_was_approved(void **state)
{
  (void)state;
  assert_prints_file(drift_80, sample_drift(), "drift-80.txt");
  assert_prints_file(drift_40, sample_drift(), "drift-40.txt");
  assert_prints_file(drift_80, sample_many(5), "drift-of-many-80.txt");
  assert_prints_file(drift_40, sample_many(5), "drift-of-many-40.txt");
}

static void a_count_line_is_written_in_milliseconds(void **state)
{
  (void)state;
  setlocale(LC_ALL, "de_DE.UTF-8"); // has no effect where that locale is not installed
  const CwCountLine line = sample_line();
  size_t size = 0;
  char *text = NULL;
  capture(line_csv, &line, &text, &size);
  assert_string_equal(text, "phrase,count,time_s,phrase_end_s,counts_per_min,confidence\r\n"
                            "1,1,1.000,3.000,120.00,0.912\r\n1,2,1.500,3.000,120.00,0.912\r\n"
                            "1,3,2.000,3.000,120.00,0.912\r\n1,4,2.500,3.000,120.00,0.912\r\n"
                            "2,1,6.000,6.800,150.00,\r\n2,2,6.400,6.800,150.00,\r\n");
  free(text);
  capture(line_json, &line, &text, &size);
  assert_non_null(strstr(text, "\"end_s\": 6.8,"));
  assert_non_null(strstr(text, "\"confidence\": null"));
  free(text);
}

static void full_memory_and_full_disk_are_told(void **state)
{
  (void)state;
  const CwDriftTable *drift = sample_drift();
  const CwDriftTable *many = sample_many(5);
  const CwCountLine line = sample_line();
  const CwSheet *sheet = sample_sheet("hard");
  // the CSV of a count line holds no text and needs no memory
  const struct {
    Printing print;
    const void *subject;
    bool allocates;
  } row[] = {{sheet_json, sheet, true}, {sheet_csv, sheet, true}, {line_json, &line, true}, {line_csv, &line, false},
             {drift_json, drift, true}, {drift_csv, drift, true}, {drift_80, drift, true},  {drift_40, drift, true},
             {drift_json, many, true},  {drift_csv, many, true},  {drift_80, many, true},   {drift_40, many, true}};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    if (row[i].allocates) {
      assert_bears_full_memory(row[i].print, row[i].subject);
    }
    assert_tells_full_disk(row[i].print, row[i].subject);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(drift_is_as_it_was_approved),
      cmocka_unit_test(a_count_line_is_written_in_milliseconds),
      cmocka_unit_test(full_memory_and_full_disk_are_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
