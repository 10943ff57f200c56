// SPDX-License-Identifier: GPL-3.0-or-later
/// What is kept in a cache: blocks of bytes under names.
#ifndef CW_BASE_CACHE_H
#define CW_BASE_CACHE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/cache.h"

/// Room for the key of a file's content, NUL included: SHA-256 in hexadecimal digits.
enum { CW_CONTENT_KEY = 65 };

/// The key of what a file holds. @return false when it cannot be read; a cache is then not to be asked.
bool cw_content_key(const char *path, char key[CW_CONTENT_KEY]);

/// Look for a block.
/// @param kind What it is, letters and digits; another for each format, with the version of what made it.
/// @param[out] data Release with free(); NULL when it is not there, is damaged or memory ran out.
/// @return Whether it was found.
bool cw_cache_load(const CwCache *cache, const char *key, const char *kind, void **data, size_t *size);

/// Keep a block. What goes wrong is passed over: then it is measured again next time.
void cw_cache_store(const CwCache *cache, const char *key, const char *kind, const void *data, size_t size);

#endif
