// SPDX-License-Identifier: GPL-3.0-or-later
/// Text that a command reads: notes and lists of times.
#ifndef CW_CLI_TEXT_H
#define CW_CLI_TEXT_H

#include <stddef.h>

#include "countwright/notebook.h"
#include "countwright/status.h"

/// Read a file to its end; "-" is standard input.
/// @param[out] text Release with free(); `size` bytes and a NUL. NULL on error.
/// @return CW_OK, CW_ERR_NOT_FOUND, CW_ERR_IS_DIRECTORY, CW_ERR_NO_ACCESS, CW_ERR_TOO_LONG (over 64 MiB), CW_ERR_READ,
/// CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cli_read_text(const char *path, char **text, size_t *size);

/// Read a notebook; "-" is standard input.
/// @param[out] notebook Release with cw_notebook_free(); empty on error.
/// @return As cli_read_text().
CW_NODISCARD CwStatus cli_read_notes(const char *path, CwNotebook *notebook);

/// Where the recording is that the notes name: looked for in the folder of the notes.
/// @param[out] recording Release with free(); NULL when they name none, and on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cli_recording_of(const CwNotebook *notebook, const char *notes_path, char **recording);

/// Where a file is that the notes name: in their folder, unless its name is a whole path.
/// @return Release with free(); NULL when memory runs out.
char *cli_beside_notes(const char *name, const char *notes_path);

/// The part of a path after its folders.
const char *cli_base_name(const char *path);

#endif
