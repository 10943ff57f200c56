// SPDX-License-Identifier: GPL-3.0-or-later
/// @file audio_write.h
/// Sound written to a file as a stream: WAV, FLAC, Ogg Vorbis, Ogg Opus, MP3 or m4a, with tags and chapter marks.
///
/// WAV is libsndfile's; the others are FFmpeg's, which has chapter marks for them, and libsndfile's, without marks, in a
/// build that lacks it. A file is there whole or not at all.
#ifndef COUNTWRIGHT_AUDIO_WRITE_H
#define COUNTWRIGHT_AUDIO_WRITE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/status.h"

CW_BEGIN

/// A form of sound file, named by the ending of its name.
typedef enum {
  CW_SOUND_WAV,    ///< .wav: 16 bits; marks are cue points
  CW_SOUND_FLAC,   ///< .flac: 16 bits, lossless
  CW_SOUND_VORBIS, ///< .ogg, .oga
  CW_SOUND_OPUS,   ///< .opus
  CW_SOUND_MP3,    ///< .mp3
  CW_SOUND_M4A     ///< .m4a, .mp4: AAC; needs FFmpeg's libraries
} CwSoundForm;

/// A mark where a chapter begins.
typedef struct {
  double start_s;    ///< of the first 0, as m4a knows no time before it
  const char *title; ///< UTF-8
} CwSoundChapter;

/// How a sound is written. What it points to is only read while the writer is opened.
typedef struct {
  CwSoundForm form;
  unsigned rate_hz;  ///< of the samples handed in, 8000 to 192000; the file has the nearest that its form can have
  unsigned channels; ///< 1 or 2
  unsigned kbit_s;   ///< bit rate wanted, kept within what the form can have; 0: usual for it. Nothing to WAV and FLAC
  const char *title; ///< tags in UTF-8; NULL where there is none
  const char *artist;
  const char *album;
  const char *comment;
  const CwSoundChapter *chapter; ///< `n_chapters` of them, ascending; may be NULL
  size_t n_chapters;
  double duration_s; ///< length of the whole, the end of the last chapter; only used where there are chapters
} CwSoundOptions;

/// A sound file being written. Not for use by two threads at once.
typedef struct CwSoundWriter CwSoundWriter;

/// The form that the ending of a name stands for. @return false when it is none of them.
CW_API bool cw_sound_form(const char *path, CwSoundForm *form);

/// All endings, such as ".wav", the last followed by NULL.
CW_API const char *const *cw_sound_endings(void);

/// Begin a file: nothing stands at `path` before cw_sound_writer_end().
/// @param overwrite Whether a file that is there may be replaced.
/// @param[out] writer NULL on error.
/// @return CW_OK, CW_ERR_EXISTS, CW_ERR_IS_DIRECTORY, CW_ERR_NOT_FOUND (no such folder), CW_ERR_NO_ACCESS, CW_ERR_WRITE,
/// CW_ERR_UNSUPPORTED (this build cannot write the form), CW_ERR_BAD_ARG or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sound_writer_open(const char *path, bool overwrite, const CwSoundOptions *options,
                                                  CwSoundWriter **writer);

/// Begin a sound in memory, for cw_sound_writer_take(). @return As cw_sound_writer_open().
CW_API CW_NODISCARD CwStatus cw_sound_writer_open_memory(const CwSoundOptions *options, CwSoundWriter **writer);

/// Write `n_frames` frames of interleaved samples; full scale is 1.0, beyond it they are cut, what is not finite is silence.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM; after an error only cw_sound_writer_cancel() may follow.
CW_API CW_NODISCARD CwStatus cw_sound_writer_write(CwSoundWriter *writer, const float *frame, size_t n_frames);

/// Finish the file and put it in its place. The writer is released either way; on error nothing is left behind.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sound_writer_end(CwSoundWriter *writer);

/// Finish a sound in memory. The writer is released either way.
/// @param[out] bytes Release with free(); NULL on error.
/// @return CW_OK, CW_ERR_WRITE, CW_ERR_BAD_ARG (it is no writer to memory) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sound_writer_take(CwSoundWriter *writer, void **bytes, size_t *size);

/// Give up: nothing is left behind. NULL is accepted.
CW_API void cw_sound_writer_cancel(CwSoundWriter *writer);

CW_END

#endif
