// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/output.h"

static const char *const path = "test_output.tmp";

static void put(const char *text)
{
  CwOutput output;
  assert_int_equal(cw_output_begin(path, true, &output), CW_OK);
  assert_true(fputs(text, output.stream) >= 0);
  assert_int_equal(cw_output_end(&output), CW_OK);
}

static void assert_content(const char *wanted)
{
  char text[64] = "";
  FILE *in = fopen(path, "rb");
  assert_non_null(in);
  text[fread(text, 1, sizeof text - 1, in)] = '\0';
  fclose(in);
  assert_string_equal(text, wanted);
}

static void a_file_is_replaced_only_when_asked_and_only_whole(void **state)
{
  (void)state;
  CwOutput output;
  unlink(path);
  put("first");
  assert_int_equal(cw_output_begin(path, false, &output), CW_ERR_EXISTS);
  assert_int_equal(cw_output_begin(path, true, &output), CW_OK);
  fputs("half", output.stream);
  fflush(output.stream);
  assert_content("first");
  cw_output_cancel(&output);
  assert_content("first");
  put("second");
  assert_content("second");
  unlink(path);
}

static void a_full_disk_and_bad_places_are_told(void **state)
{
  (void)state;
  CwOutput output;
  assert_int_equal(cw_output_begin("/dev/full", true, &output), CW_OK);
  fputs("text", output.stream);
  assert_int_equal(cw_output_end(&output), CW_ERR_WRITE);
  assert_int_equal(cw_output_begin(".", true, &output), CW_ERR_IS_DIRECTORY);
  assert_int_equal(cw_output_begin("no/such/folder/x", true, &output), CW_ERR_NOT_FOUND);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_file_is_replaced_only_when_asked_and_only_whole),
      cmocka_unit_test(a_full_disk_and_bad_places_are_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
