// SPDX-License-Identifier: GPL-3.0-or-later
/// @file count_line_file.h
/// A count line read back from what cw_count_line_json() or cw_count_line_csv() wrote.
#ifndef COUNTWRIGHT_COUNT_LINE_FILE_H
#define COUNTWRIGHT_COUNT_LINE_FILE_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// What such a file holds.
typedef struct {
  CwCountLine line; ///< from CSV, which has no more: no metre, 0 beats a count, as long as its last phrase
  size_t *number;   ///< phrase number of each, from 1; none twice
  char *recording;  ///< name; NULL when the file does not say
} CwCountLineFile;

/// Read a count line; JSON begins with '{', all else is CSV, whose columns are found by their names.
/// @param text `size` bytes, any content.
/// @param[out] file Release with cw_count_line_file_free(); empty on error.
/// @param[out] messages On CW_ERR_SYNTAX, where the text does not follow its format; appended to.
/// @return CW_OK, CW_ERR_SYNTAX or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_count_line_file_read(const char *text, size_t size, CwCountLineFile *file,
                                                     CwMessages *messages);

/// Release and set to empty. NULL is accepted.
CW_API void cw_count_line_file_free(CwCountLineFile *file);

CW_END

#endif
