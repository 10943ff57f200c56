// SPDX-License-Identifier: GPL-3.0-or-later
/// Files that are either written whole or not at all: a temporary file beside the target, renamed at the end.
#ifndef CW_BASE_OUTPUT_H
#define CW_BASE_OUTPUT_H

#include <stdbool.h>
#include <stdio.h>

#include "countwright/status.h"

/// A file being written.
typedef struct {
  FILE *stream;    ///< write here; seekable unless standard output or a device
  char *path;      ///< where it will stand; NULL for standard output
  char *temporary; ///< where it is written meanwhile; NULL for standard output and devices
} CwOutput;

/// Begin a file. "-" is standard output; a device (such as /dev/full) is written to directly.
/// @param overwrite Whether a file already there may be replaced.
/// @return CW_OK, CW_ERR_EXISTS, CW_ERR_IS_DIRECTORY, CW_ERR_NOT_FOUND (no such folder), CW_ERR_NO_ACCESS,
/// CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_output_begin(const char *path, bool overwrite, CwOutput *output);

/// Finish: flush, check, close and rename. The output is released either way.
/// @return CW_OK or CW_ERR_WRITE (then nothing is left behind).
CW_NODISCARD CwStatus cw_output_end(CwOutput *output);

/// Give up: close and remove what was written. Safe on a zeroed CwOutput.
void cw_output_cancel(CwOutput *output);

#endif
