// SPDX-License-Identifier: GPL-3.0-or-later
/// @file cache.h
/// A memory of what was measured in recordings, so that the next comparison costs only its own recording. What is in it
/// is found by the content of the recordings, not by their names. It is never needed: all of it may be deleted at any
/// time, several programs may use one folder at once, and what is damaged in it is passed over.
#ifndef COUNTWRIGHT_CACHE_H
#define COUNTWRIGHT_CACHE_H

#include <stddef.h>
#include <stdint.h>

#include "countwright/api.h"
#include "countwright/status.h"

CW_BEGIN

/// What a cache holds on disk at most, where nobody says otherwise: 1 GiB, about a day of music.
#define CW_CACHE_LIMIT_BYTES ((uint64_t)1 << 30)

/// An open cache. Opaque.
typedef struct CwCache CwCache;

/// Open a cache, making its folder (and those above it) when they are not there.
/// @param limit_bytes When more than this is kept, what was not used for longest is removed.
/// @param[out] cache Release with cw_cache_free(); NULL on error.
/// @return CW_OK, CW_ERR_NO_ACCESS (the folder cannot be made or written to) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_cache_open(const char *folder, uint64_t limit_bytes, CwCache **cache);

/// Release; what is kept on disk stays. NULL is accepted.
CW_API void cw_cache_free(CwCache *cache);

/// Remove all that a cache keeps in a folder, and nothing else.
/// @param[out] n_files, bytes What was removed.
/// @return CW_OK (also when there is no such folder), CW_ERR_NO_ACCESS or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_cache_clear(const char *folder, size_t *n_files, uint64_t *bytes);

CW_END

#endif
