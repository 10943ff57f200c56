// SPDX-License-Identifier: GPL-3.0-or-later
/// Files read to their end, and what the system says when that fails.
#ifndef CW_BASE_FILE_H
#define CW_BASE_FILE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// What an errno means for a file. @param otherwise For those that say nothing about it.
CwStatus cw_errno_status(int number, CwStatus otherwise);

/// Read a file, or a pipe, to its end.
/// @param path "-" is standard input.
/// @param most_bytes With more than so many it is too long.
/// @param[out] text Release with free(); `size` bytes and a NUL. NULL on error.
/// @return CW_OK, CW_ERR_NOT_FOUND, CW_ERR_IS_DIRECTORY, CW_ERR_NO_ACCESS, CW_ERR_TOO_LONG, CW_ERR_READ or
/// CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_file_read(const char *path, size_t most_bytes, char **text, size_t *size);

/// Whether bytes are no text: a recording, say. A stray NUL may come into text; many together do not.
bool cw_is_binary(const char *text, size_t size);

#endif
