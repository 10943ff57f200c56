// SPDX-License-Identifier: GPL-3.0-or-later
/// @file web_sheet.h
/// The count sheet as one web page in one file, which needs nothing else: no network, no other file.
///
/// Labels are in the language of the sheet. Light and dark, for print, for large text, for screen readers and the keyboard. A strict content security policy
/// stands in it: only its own style and, with the recording inside, its own script. Notes are text in it, never markup.
#ifndef COUNTWRIGHT_WEB_SHEET_H
#define COUNTWRIGHT_WEB_SHEET_H

#include <stdio.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/sheet.h"
#include "countwright/status.h"

CW_BEGIN

/// What a page is made of beside the sheet. Zeroed: no times to play by, no recording.
typedef struct {
  const CwCountLine *line; ///< where the counts fall; NULL without times
  const size_t *number;    ///< of each phrase of the line, its number on the sheet; NULL: from 1 on
  const void *sound;       ///< the recording, `sound_size` bytes; NULL: not inside. Needs `line`
  size_t sound_size;
  const char *sound_type; ///< its media type, such as "audio/mp4"
} CwWebSheet;

/// Write the page. With the recording inside it plays, with the current count lit, from any phrase, in loops of one or more
/// phrases, slower at the same pitch, with counts clicked before.
/// @return CW_OK, CW_ERR_BAD_ARG (a recording without a line or type), CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_web(const CwSheet *sheet, const CwWebSheet *web, FILE *out);

/// How many bytes a recording of so many bytes takes inside a page.
CW_API size_t cw_web_sound_size(size_t bytes);

CW_END

#endif
