// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/status.h"

#include <stddef.h>

static const char *const sentence[] = {
    [CW_OK] = "no error",
    [CW_ERR_NO_MEM] = "memory ran out",
    [CW_ERR_BAD_ARG] = "a value is outside what is allowed",
    [CW_ERR_NOT_FOUND] = "there is no such file",
    [CW_ERR_IS_DIRECTORY] = "this is a folder, not a file",
    [CW_ERR_NO_ACCESS] = "permission to open it is missing",
    [CW_ERR_EMPTY] = "the file is empty",
    [CW_ERR_NOT_AUDIO] = "this is not a recording that can be read",
    [CW_ERR_NO_AUDIO_TRACK] = "there is no audio track in it",
    [CW_ERR_TRUNCATED] = "the recording is cut off and nothing of it can be used",
    [CW_ERR_TOO_LONG] = "it is longer than the limit (12 hours of audio, 64 MiB of notes)",
    [CW_ERR_TOO_SHORT] = "the recording is too short to find counts in (under 2 seconds)",
    [CW_ERR_UNSUPPORTED] = "this program was built without the library for it",
    [CW_ERR_READ] = "it could not be read to its end",
    [CW_ERR_WRITE] = "it could not be written (is the disk full?)",
    [CW_ERR_EXISTS] = "the file exists already",
    [CW_ERR_SYNTAX] = "the text does not follow its format",
    [CW_ERR_CANCELLED] = "cancelled",
    [CW_ERR_NO_PULSE] = "no pulse found here",
    [CW_ERR_NOT_TEXT] = "this is a recording or another binary file, not notes",
    [CW_ERR_OTHER_MUSIC] = "these do not seem to be the same music",
};

const char *cw_strerror(CwStatus status)
{
  const size_t i = (size_t)status;
  return i < sizeof sentence / sizeof sentence[0] && sentence[i] ? sentence[i] : "unknown error";
}
