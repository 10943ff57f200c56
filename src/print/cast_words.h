// SPDX-License-Identifier: GPL-3.0-or-later
/// Who is on stage when, in words.
#ifndef CW_PRINT_CAST_WORDS_H
#define CW_PRINT_CAST_WORDS_H

#include "countwright/cast.h"
#include "countwright/language.h"
#include "countwright/report.h"

/// A line for each role's name, and below it, begun with two blanks, one for each wait and what comes before and after;
/// at the end what to think of the reminders, when there are any. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_cast_lines(const CwCast *cast, CwLanguage language, CwMessages *lines);

#endif
