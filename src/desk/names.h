// SPDX-License-Identifier: GPL-3.0-or-later
/// Names of files in the desk's folder: one part, never hidden, never a way out.
#ifndef CW_DESK_NAMES_H
#define CW_DESK_NAMES_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/stat.h>

#include "countwright/status.h"

/// The longest name, NUL included.
enum { DESK_NAME = 256 };

typedef enum { DESK_OTHER, DESK_NOTES, DESK_RECORDING } DeskKind;

/// Whether a name may be asked for: UTF-8, one part of a path, not hidden, without control characters.
bool desk_is_name(const char *name);

/// What a file is, by its ending.
DeskKind desk_kind_of(const char *name);

/// The type of a file by its ending, as browsers call it.
const char *desk_type_of(const char *name);

/// Open a file of a folder to read: a plain file, and no link. @param[out] facts May be NULL.
/// @return Its descriptor; -1 when there is none that may be read.
int desk_open_file(int folder, const char *name, struct stat *facts);

/// Read a text of a folder. @param[out] text Release with free(); NULL on error. @param[out] facts May be NULL.
/// @return CW_OK, CW_ERR_NOT_FOUND, CW_ERR_TOO_LONG, CW_ERR_READ or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus desk_read_file(int folder, const char *name, char **text, size_t *size, struct stat *facts);

/// Notes longer than this are not read.
#define DESK_MOST_TEXT ((size_t)4 << 20)

#endif
