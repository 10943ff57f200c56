// SPDX-License-Identifier: GPL-3.0-or-later
/// What the readers of count lines share.
#ifndef CW_PRINT_COUNT_LINE_READ_H
#define CW_PRINT_COUNT_LINE_READ_H

#include "countwright/count_line_file.h"

/// One phrase as read.
typedef struct {
  size_t number;
  double *count_s; ///< `counts` of them
  unsigned counts;
  double end_s;
  double confidence; ///< negative when unknown
} CwReadPhrase;

/// Append a phrase, if it can follow.
/// @param place Where it stands, for the message. @return As cw_count_line_file_read().
CW_NODISCARD CwStatus cw_count_line_take(const CwReadPhrase *phrase, const char *place, CwCountLineFile *file,
                                         CwMessages *messages);

/// Say that the text does not follow its format. @return CW_ERR_SYNTAX or CW_ERR_NO_MEM.
CwStatus cw_count_line_wrong(CwMessages *messages, const char *place, const char *expected);

/// The two forms. @return As cw_count_line_file_read(); on error what was read so far is in `file`.
CW_NODISCARD CwStatus cw_count_line_from_json(const char *text, size_t size, CwCountLineFile *file,
                                              CwMessages *messages);
CW_NODISCARD CwStatus cw_count_line_from_csv(const char *text, size_t size, CwCountLineFile *file,
                                             CwMessages *messages);

#endif
