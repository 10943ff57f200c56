// SPDX-License-Identifier: GPL-3.0-or-later
/// A folder of its own for a test, as set-up and tear-down of cmocka.
#ifndef TEST_SCRATCH_H
#define TEST_SCRATCH_H

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/// Where it is, between set-up and tear-down.
static char *test_scratch(void)
{
  static char folder[64];
  return folder;
}

static inline int test_make_scratch(void **state)
{
  (void)state;
  snprintf(test_scratch(), 64, "/tmp/countwright-test-XXXXXX");
  return mkdtemp(test_scratch()) ? 0 : -1;
}

/// Removes the files in it, too; there must be no folders.
static inline int test_remove_scratch(void **state)
{
  (void)state;
  DIR *folder = opendir(test_scratch());
  if (!folder) {
    return -1;
  }
  for (const struct dirent *entry = readdir(folder); entry; entry = readdir(folder)) {
    char path[400];
    snprintf(path, sizeof path, "%s/%s", test_scratch(), entry->d_name);
    if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0) {
      unlink(path);
    }
  }
  closedir(folder);
  return rmdir(test_scratch());
}

#endif
