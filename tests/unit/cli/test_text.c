// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "cli/at.h"
#include "cli/cli.h"
#include "cli/text.h"

static const char *const made_file = "test_cli_text.tmp";

static void make_file(const void *bytes, size_t n)
{
  FILE *file = fopen(made_file, "wb");
  assert_non_null(file);
  assert_int_equal(fwrite(bytes, 1, n, file), n);
  assert_int_equal(fclose(file), 0);
}

static void any_bytes_of_any_size_are_read(void **state)
{
  (void)state;
  static char bytes[200001]; // more than is read at once
  for (size_t i = 0; i < sizeof bytes; i++) {
    bytes[i] = (char)(i % 251);
  }
  static const size_t size[] = {0, 1, 65534, 65535, 65536, 131071, 200001};
  for (size_t i = 0; i < sizeof size / sizeof size[0]; i++) {
    make_file(bytes, size[i]);
    char *text = NULL;
    size_t n = 1;
    assert_int_equal(cli_read_text(made_file, &text, &n), CW_OK);
    assert_int_equal(n, size[i]);
    assert_memory_equal(text, bytes, n);
    assert_int_equal(text[n], '\0');
    free(text);
  }
  unlink(made_file);
}

static void what_cannot_be_read_is_told(void **state)
{
  (void)state;
  char *text = NULL;
  size_t n = 0;
  assert_int_equal(cli_read_text("no-such-file", &text, &n), CW_ERR_NOT_FOUND);
  assert_int_equal(cli_read_text(".", &text, &n), CW_ERR_IS_DIRECTORY);
  assert_null(text);
  make_file("x", 1);
  assert_int_equal(truncate(made_file, ((off_t)64 << 20) + 2), 0);
  assert_int_equal(cli_read_text(made_file, &text, &n), CW_ERR_TOO_LONG);
  assert_null(text);
  unlink(made_file);
}

static void a_recording_is_looked_for_beside_its_notes(void **state)
{
  (void)state;
  static const struct {
    const char *notes;
    const char *head;
    const char *wanted; ///< NULL: none
  } row[] = {
      {"notes.txt", "recording: a.wav\n", "a.wav"},
      {"x/y/notes.txt", "recording: a.wav\n", "x/y/a.wav"},
      {"/x/notes.txt", "recording: ../a.wav\n", "/x/../a.wav"},
      {"x/notes.txt", "recording: /r/a.wav\n", "/r/a.wav"},
      {"-", "recording: a.wav\n", "a.wav"},
      {"x/notes.txt", "piece: none\n", NULL},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    CwNotebook notebook;
    assert_int_equal(cw_notebook_parse(row[i].head, strlen(row[i].head), &notebook), CW_OK);
    char *recording = NULL;
    assert_int_equal(cli_recording_of(&notebook, row[i].notes, &recording), CW_OK);
    if (row[i].wanted) {
      assert_string_equal(recording, row[i].wanted);
    } else {
      assert_null(recording);
    }
    free(recording);
    cw_notebook_free(&notebook);
  }
}

static void times_are_read_line_by_line(void **state)
{
  (void)state;
  static const char text[] = "1\n 2.5 \r\n\n1:02.35\n7"; // no end of line at the end
  make_file(text, sizeof text - 1);
  CliTimes times;
  assert_int_equal(cli_read_times(made_file, &times), CLI_GOOD);
  assert_int_equal(times.n, 5);
  assert_near(times.time_s[0], 1, 0);
  assert_near(times.time_s[1], 2.5, 1e-12);
  assert_true(isnan(times.time_s[2]));
  assert_near(times.time_s[3], 62.35, 1e-9);
  assert_near(times.time_s[4], 7, 0);
  free(times.time_s);
  unlink(made_file);
}

static void a_full_memory_is_told_wherever_it_strikes(void **state)
{
  (void)state;
  char text[400] = "";
  for (int i = 0; i < 100; i++) {
    strcat(text, "1\n"); // so many that the array of times grows
  }
  make_file(text, strlen(text));
  int result = CLI_FAILED;
  long n = 0;
  for (; result == CLI_FAILED && n < 20; n++) {
    CliTimes times;
    cw_fail_after(n);
    result = cli_read_times(made_file, &times);
    assert_true((times.time_s != NULL) == (result == CLI_GOOD));
    free(times.time_s);
  }
  cw_fail_after(-1);
  assert_int_equal(result, CLI_GOOD);
  assert_true(n > 3);
  unlink(made_file);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(any_bytes_of_any_size_are_read),
      cmocka_unit_test(what_cannot_be_read_is_told),
      cmocka_unit_test(a_recording_is_looked_for_beside_its_notes),
      cmocka_unit_test(times_are_read_line_by_line),
      cmocka_unit_test(a_full_memory_is_told_wherever_it_strikes),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
