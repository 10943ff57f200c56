// SPDX-License-Identifier: GPL-3.0-or-later
/// @file status.h
/// What a call came to. Every function that can fail returns a CwStatus.
#ifndef COUNTWRIGHT_STATUS_H
#define COUNTWRIGHT_STATUS_H

#include "countwright/api.h"

CW_BEGIN

/// The outcome of a call. Zero is success.
typedef enum {
  CW_OK = 0,             ///< it worked
  CW_ERR_NO_MEM,         ///< memory ran out
  CW_ERR_BAD_ARG,        ///< the caller broke the function's contract
  CW_ERR_NOT_FOUND,      ///< no such file
  CW_ERR_IS_DIRECTORY,   ///< a folder where a file was expected
  CW_ERR_NO_ACCESS,      ///< the file may not be read or written
  CW_ERR_EMPTY,          ///< the file holds nothing
  CW_ERR_NOT_AUDIO,      ///< the file is no recording that can be read
  CW_ERR_NO_AUDIO_TRACK, ///< a media file with no audio in it
  CW_ERR_TRUNCATED,      ///< the recording ends before its header says, with nothing usable in it
  CW_ERR_TOO_LONG,       ///< the recording is longer than the limit
  CW_ERR_TOO_SHORT,      ///< the recording is too short to find counts in
  CW_ERR_UNSUPPORTED,    ///< this build lacks the library for it
  CW_ERR_READ,           ///< reading failed
  CW_ERR_WRITE,          ///< writing failed (disk full, say)
  CW_ERR_EXISTS,         ///< the output exists and overwriting was not asked for
  CW_ERR_SYNTAX,         ///< the text does not follow its format
  CW_ERR_CANCELLED,      ///< the progress callback asked to stop
  CW_ERR_NO_PULSE,       ///< no pulse was found
  CW_ERR_NOT_TEXT,       ///< a recording or another binary file where notes were expected
  CW_ERR_OTHER_MUSIC     ///< two recordings do not seem to be the same music
} CwStatus;

/// One plain English sentence for a status, without a full stop.
/// @return A constant string, never NULL; "unknown error" for a value outside the enumeration.
CW_API const char *cw_strerror(CwStatus status);

CW_END

#endif
