// SPDX-License-Identifier: GPL-3.0-or-later
/// A way to decode recordings. Back ends are tried in the order of one table (reader.c).
#ifndef CW_AUDIO_BACK_END_H
#define CW_AUDIO_BACK_END_H

#include <stddef.h>

#include "countwright/audio.h"
#include "countwright/status.h"

/// What a back end says of a file that it opened.
typedef struct {
  CwAudioInfo info;
  unsigned rate_hz; ///< info.rate_hz as a whole number
  /// Seconds by which the file may fall short of info.duration_s before it counts as cut off; INFINITY where the length
  /// is only a guess.
  double slack_s;
} CwFileFacts;

/// One decoder library behind three calls.
typedef struct {
  /// Open a regular file.
  /// @param descriptor Open for reading; stays the caller's.
  /// @param[out] state For the other calls; NULL on error.
  /// @return CW_OK; CW_ERR_NOT_AUDIO when another back end should try; anything else is final.
  CwStatus (*open)(int descriptor, const char *path, CwFileFacts *facts, void **state);

  /// Decode up to `n_frames` frames of interleaved samples at the file's own rate, full scale 1.0.
  /// @param[out] n_read Frames decoded; 0 only at the end.
  CwStatus (*read)(void *state, float *out, size_t n_frames, size_t *n_read);

  /// Close. NULL is accepted.
  void (*close)(void *state);
} CwBackEnd;

extern const CwBackEnd cw_back_end_sndfile;
extern const CwBackEnd cw_back_end_ffmpeg; // only where built with FFmpeg

#endif
