// SPDX-License-Identifier: GPL-3.0-or-later
/// A way to encode sound. Encoders are tried in the order of one table (write.c).
#ifndef CW_AUDIO_WRITE_H
#define CW_AUDIO_WRITE_H

#include <stddef.h>
#include <stdio.h>

#include "countwright/audio_write.h"

/// One encoder library behind four calls.
typedef struct {
  /// Begin.
  /// @param stream Where to write, seekable; stays the caller's.
  /// @param[out] state For the other calls; NULL on error.
  /// @return CW_OK; CW_ERR_UNSUPPORTED when another one should try (nothing is written then); anything else is final.
  CwStatus (*open)(FILE *stream, const CwSoundOptions *options, void **state);

  /// Encode interleaved samples that are finite and within full scale.
  CwStatus (*write)(void *state, const float *frame, size_t n_frames);

  /// Write what is held back, and the end of the file.
  CwStatus (*end)(void *state);

  /// Release, whether or not it was ended. NULL is accepted.
  void (*close)(void *state);
} CwSoundBackEnd;

extern const CwSoundBackEnd cw_sound_sndfile;
extern const CwSoundBackEnd cw_sound_ffmpeg; // only where built with FFmpeg

/// The bit rate to use, in kbit/s.
unsigned cw_sound_kbit_s(const CwSoundOptions *options);

#endif
