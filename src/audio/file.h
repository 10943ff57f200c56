// SPDX-License-Identifier: GPL-3.0-or-later
/// The file that a recording is in, before any decoder sees it.
#ifndef CW_AUDIO_FILE_H
#define CW_AUDIO_FILE_H

#include <stdbool.h>

#include "countwright/report.h"
#include "countwright/status.h"

/// Open a regular file that is not empty. Never waits, whatever `path` is.
/// @param[out] descriptor Close with close(); -1 on error.
/// @return CW_OK, CW_ERR_NOT_FOUND, CW_ERR_IS_DIRECTORY, CW_ERR_NO_ACCESS, CW_ERR_EMPTY, CW_ERR_NOT_AUDIO (a pipe or
/// a device, told by a notice) or CW_ERR_READ.
CW_NODISCARD CwStatus cw_file_open(const char *path, const CwReport *report, int *descriptor);

/// Why no back end could open the file, judged by its first bytes.
/// @return CW_ERR_TRUNCATED for the beginning of a recording, CW_ERR_UNSUPPORTED for one that only FFmpeg could read
/// in a build without it, else CW_ERR_NOT_AUDIO.
CW_NODISCARD CwStatus cw_file_why_not(int descriptor);

/// Whether the file begins as an MP3 file does: with a tag or a frame.
bool cw_file_seems_mp3(int descriptor);

/// How many times as much audio a WAV or AIFF file promises as it holds: 1 when whole or when it does not say,
/// INFINITY when it holds none of what it promises.
double cw_file_promise(int descriptor);

/// Whether a WAV or AIFF file was never closed, as when a recorder's battery ran out: its samples are there, but its
/// header still says that there are none.
bool cw_file_unclosed(int descriptor);

#endif
