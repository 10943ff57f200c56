// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/memory.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static _Thread_local long allowed = -1;

static bool may_allocate(void)
{
  if (allowed < 0) {
    return true;
  }
  if (allowed == 0) {
    return false;
  }
  allowed--;
  return true;
}

void *cw_new(size_t n, size_t size)
{
  return may_allocate() ? calloc(n ? n : 1, size ? size : 1) : NULL;
}

void *cw_resize(void *old, size_t n, size_t size)
{
  if (!may_allocate() || (size && n > SIZE_MAX / size)) {
    return NULL;
  }
  const size_t bytes = n * size;
  return realloc(old, bytes ? bytes : 1);
}

bool cw_grow(void *array, size_t *capacity, size_t n, size_t size)
{
  if (n < *capacity) {
    return true;
  }
  const size_t wanted = *capacity < 8 ? 16 : *capacity * 2;
  void *old = NULL;
  memcpy(&old, array, sizeof old);
  void *grown = cw_resize(old, wanted, size);
  if (!grown) {
    return false;
  }
  memcpy(array, &grown, sizeof grown);
  *capacity = wanted;
  return true;
}

char *cw_copy_text(const char *text, size_t length)
{
  char *copy = cw_new(length + 1, 1);
  if (copy) {
    memcpy(copy, text, length);
  }
  return copy;
}

void cw_fail_after(long n)
{
  allowed = n;
}
