// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/memory.h"
#include "unit/scratch.h"

/// A file of the scratch folder with these bytes.
static const char *file_of(const char *bytes, size_t n)
{
  static char path[96];
  snprintf(path, sizeof path, "%s/file", test_scratch());
  FILE *out = fopen(path, "wb");
  assert_non_null(out);
  assert_int_equal(fwrite(bytes, 1, n, out), n);
  assert_int_equal(fclose(out), 0);
  return path;
}

static void assert_read(const char *path, size_t most, CwStatus wanted)
{
  char *text = (char *)path;
  size_t size = 7;
  assert_int_equal(cw_file_read(path, most, &text, &size), wanted);
  assert_null(text);
  assert_int_equal(size, 0);
}

static void what_the_system_says_becomes_a_status(void **state)
{
  (void)state;
  // the meanings are those of POSIX.1-2008, open() and read()
  static const struct {
    int number;
    CwStatus status;
  } known[] = {{ENOENT, CW_ERR_NOT_FOUND}, {ENOTDIR, CW_ERR_NOT_FOUND}, {EACCES, CW_ERR_NO_ACCESS},
               {EPERM, CW_ERR_NO_ACCESS},  {EROFS, CW_ERR_NO_ACCESS},   {EISDIR, CW_ERR_IS_DIRECTORY}};
  for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
    assert_int_equal(cw_errno_status(known[i].number, CW_ERR_READ), known[i].status);
    assert_int_equal(cw_errno_status(known[i].number, CW_ERR_WRITE), known[i].status);
  }
  assert_int_equal(cw_errno_status(EIO, CW_ERR_READ), CW_ERR_READ);
  assert_int_equal(cw_errno_status(ENOSPC, CW_ERR_WRITE), CW_ERR_WRITE);
  assert_int_equal(cw_errno_status(0, CW_ERR_CANCELLED), CW_ERR_CANCELLED);
}

static void a_file_is_read_to_its_end(void **state)
{
  (void)state;
  enum { LONG = 300000 };
  char *bytes = malloc(LONG);
  assert_non_null(bytes);
  for (size_t i = 0; i < LONG; i++) {
    bytes[i] = (char)(i * 7);
  }
  static const size_t sizes[] = {0, 1, 15, 16, 17, 65535, 65536, LONG};
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    char *text = NULL;
    size_t size = 0;
    assert_int_equal(cw_file_read(file_of(bytes, sizes[i]), LONG, &text, &size), CW_OK);
    assert_int_equal(size, sizes[i]);
    assert_memory_equal(text, bytes, size);
    assert_int_equal(text[size], '\0');
    free(text);
  }
  assert_read(file_of(bytes, LONG), LONG - 1, CW_ERR_TOO_LONG);
  free(bytes);
}

static void what_cannot_be_read_is_told_apart(void **state)
{
  (void)state;
  assert_read("no/such/file", 10, CW_ERR_NOT_FOUND);
  assert_read("/dev/null/file", 10, CW_ERR_NOT_FOUND);
  assert_read(".", 10, CW_ERR_IS_DIRECTORY);
  assert_read("/dev/zero", 1 << 20, CW_ERR_TOO_LONG);
  if (geteuid() != 0) { // root may read all
    const char *locked = file_of("x", 1);
    assert_int_equal(chmod(locked, 0), 0);
    assert_read(locked, 10, CW_ERR_NO_ACCESS);
    assert_int_equal(chmod(locked, 0600), 0);
  }
}

static void text_is_told_from_recordings(void **state)
{
  (void)state;
  static const char nuls[10];
  assert_false(cw_is_binary("", 0));
  assert_false(cw_is_binary("1-4 walk\0 5 turn", 16));
  assert_false(cw_is_binary(nuls, 7));
  assert_true(cw_is_binary(nuls, 8));
}

static void want_of_memory_is_told(void **state)
{
  (void)state;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  const char *path = file_of("8 walk\n", 7);
  for (; status == CW_ERR_NO_MEM; n++) {
    char *text = NULL;
    size_t size = 0;
    cw_fail_after(n);
    status = cw_file_read(path, 100, &text, &size);
    cw_fail_after(-1);
    assert_true((status == CW_OK) == (text != NULL));
    free(text);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(what_the_system_says_becomes_a_status),
      cmocka_unit_test_setup_teardown(a_file_is_read_to_its_end, test_make_scratch, test_remove_scratch),
      cmocka_unit_test_setup_teardown(what_cannot_be_read_is_told_apart, test_make_scratch, test_remove_scratch),
      cmocka_unit_test(text_is_told_from_recordings),
      cmocka_unit_test_setup_teardown(want_of_memory_is_told, test_make_scratch, test_remove_scratch),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
