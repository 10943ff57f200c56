// SPDX-License-Identifier: GPL-3.0-or-later
/// Allocation through one door, so that a test can make each allocation fail in turn. Memory from here is released with
/// free().
#ifndef CW_BASE_MEMORY_H
#define CW_BASE_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

/// As calloc(): zeroed; NULL on failure, on overflow of n * size, or when a test asked for failure.
void *cw_new(size_t n, size_t size);

/// As realloc() to n * size bytes; NULL (and `old` unchanged) on failure.
void *cw_resize(void *old, size_t n, size_t size);

/// Make room for one more element in a growing array.
/// @param array Address of the array pointer. @param capacity Its present capacity, updated.
/// @return false on failure; the array is then unchanged.
bool cw_grow(void *array, size_t *capacity, size_t n, size_t size);

/// A copy of `length` bytes of `text` and a NUL; NULL on failure.
char *cw_copy_text(const char *text, size_t length);

/// For tests: let `n` allocations succeed on this thread, then fail all. Negative: never fail (the default).
void cw_fail_after(long n);

#endif
