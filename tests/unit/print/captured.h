// SPDX-License-Identifier: GPL-3.0-or-later
/// Catching what a printing function writes, and what every one of them must bear.
#ifndef CW_TEST_CAPTURED_H
#define CW_TEST_CAPTURED_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "unit/cw_test.h"

#include "base/memory.h"
#include "countwright/status.h"

/// Something that prints `subject`.
typedef CwStatus (*Printing)(const void *subject, FILE *out);

/// What it prints. Release `text` with free().
static inline void capture(Printing print, const void *subject, char **text, size_t *size)
{
  FILE *out = open_memstream(text, size);
  assert_non_null(out);
  assert_int_equal(print(subject, out), CW_OK);
  assert_int_equal(fclose(out), 0);
}

/// It prints what tests/vectors/print/`name` holds.
static inline void assert_prints_file(Printing print, const void *subject, const char *name)
{
  char path[4096];
  snprintf(path, sizeof path, "%s/print/%s", CW_VECTORS, name);
  FILE *in = fopen(path, "rb");
  assert_non_null(in);
  static char wanted[1 << 16];
  wanted[fread(wanted, 1, sizeof wanted - 1, in)] = '\0';
  fclose(in);
  size_t size = 0;
  char *text = NULL;
  capture(print, subject, &text, &size);
  assert_string_equal(text, wanted);
  free(text);
}

/// With each allocation failing in turn it says so, and at last it works.
static inline void assert_bears_full_memory(Printing print, const void *subject)
{
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    FILE *out = fopen("/dev/null", "wb");
    assert_non_null(out);
    cw_fail_after(n);
    status = print(subject, out);
    cw_fail_after(-1);
    fclose(out);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 1);
}

/// A disk that is full is told.
static inline void assert_tells_full_disk(Printing print, const void *subject)
{
  FILE *out = fopen("/dev/full", "wb");
  assert_non_null(out);
  assert_int_equal(print(subject, out), CW_ERR_WRITE);
  fclose(out);
}

#endif
