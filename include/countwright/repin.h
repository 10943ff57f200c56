// SPDX-License-Identifier: GPL-3.0-or-later
/// @file repin.h
/// A copy of a notebook for another recording: every line word for word, with pins where the counts fall there.
#ifndef COUNTWRIGHT_REPIN_H
#define COUNTWRIGHT_REPIN_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// What a copy is made for.
typedef struct {
  const CwCountLine *line; ///< the counts in the other recording
  const size_t *kept;      ///< for each phrase of the notebook its index in `line`, SIZE_MAX where it is not played
  const char *recording;   ///< file of the other recording, for the head
  const char *origin;      ///< file of the notebook that the counts come from, for the head
} CwRepin;

/// Write the copy. Each line that has phrases gets a pin on the one of each of them; pins and ends of holds that are
/// there get their new times; the head names the recording and what it was carried from. Lines whose phrases the
/// recording lacks become private remarks, unless others are written as their repeats: then they stay, without pins, and
/// a message says so. Where the recording has more music between two phrases, a hold is put in. The parser reads the
/// copy as those phrases, with those pins.
/// @param[out] text Release with free(); NUL-terminated. NULL on error.
/// @param[out] messages What could not be written; appended to.
/// @return CW_OK, CW_ERR_BAD_ARG (the copy would not be read as it should) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_notebook_repin(const CwNotebook *notebook, const CwRepin *repin, char **text,
                                               size_t *size, CwMessages *messages);

CW_END

#endif
