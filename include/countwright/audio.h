// SPDX-License-Identifier: GPL-3.0-or-later
/// @file audio.h
/// Recordings, read as a stream of mono samples at one analysis rate.
///
/// libsndfile reads WAV, AIFF, FLAC, Ogg, Opus and the like; where it cannot, FFmpeg's libraries (when built in) read
/// phone files: m4a, mp4, mov, webm, 3gp. They also read MP3, which is libsndfile's in a build without them. Channels are averaged to mono. Full scale is 1.0.
#ifndef COUNTWRIGHT_AUDIO_H
#define COUNTWRIGHT_AUDIO_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "countwright/api.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// The longest recording that is read, in seconds (12 hours).
#define CW_AUDIO_LIMIT_S 43200.0

/// The rate at which music is analysed, in Hz.
#define CW_ANALYSIS_RATE_HZ 22050u

/// What the file says of itself.
typedef struct {
  double rate_hz;    ///< sample rate of the file
  unsigned channels; ///< channels of the file
  double duration_s; ///< length by the header, or guessed from the size; 0 when unknown
  char format[64];   ///< short description, such as "WAV, Signed 16 bit PCM" or "aac in mov"
} CwAudioInfo;

/// An open recording. Not for use by two threads at once.
typedef struct CwReader CwReader;

/// Open a recording. What lies at t seconds in the file lies at t seconds in what is read, at every rate. Where FFmpeg
/// reads, its log is silenced, which is a setting of the whole program.
/// @param path A regular file; a pipe or a device is refused as CW_ERR_NOT_AUDIO, with a notice that says why.
/// @param rate_hz Rate to convert to, 8000 to 192000.
/// @param report For notices; kept, with `report->user`, until cw_reader_free(). May be NULL.
/// @param[out] reader The open recording, or NULL on error. Release with cw_reader_free().
/// @return CW_OK, CW_ERR_NOT_FOUND, CW_ERR_IS_DIRECTORY, CW_ERR_NO_ACCESS, CW_ERR_EMPTY, CW_ERR_NOT_AUDIO,
/// CW_ERR_NO_AUDIO_TRACK, CW_ERR_TRUNCATED (cut off, and nothing of it can be read), CW_ERR_TOO_LONG,
/// CW_ERR_UNSUPPORTED (only FFmpeg could read it), CW_ERR_READ, CW_ERR_BAD_ARG or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_reader_open(const char *path, unsigned rate_hz, const CwReport *report,
                                            CwReader **reader);

/// Facts about the open file. Never NULL; owned by the reader.
CW_API const CwAudioInfo *cw_reader_info(const CwReader *reader);

/// Read the next mono samples at the asked rate. Samples that are not finite in the file are read as silence; their
/// number, and an early end of the file, are told once, at the end, through the report's notice.
/// @param[out] out Room for `capacity` samples.
/// @param[out] n_read Samples written; fewer than `capacity` only at the end, 0 when there are no more.
/// @return CW_OK, CW_ERR_READ, CW_ERR_TOO_LONG (the file went on past the limit) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_reader_read(CwReader *reader, float *out, size_t capacity, size_t *n_read);

/// Samples so far, over all channels, that were NaN or infinite.
CW_API uint64_t cw_reader_bad_samples(const CwReader *reader);

/// True when the file ended before its header said so.
CW_API bool cw_reader_truncated(const CwReader *reader);

/// Close. NULL is accepted.
CW_API void cw_reader_free(CwReader *reader);

/// Takes one block of samples. @return CW_OK to go on; anything else ends the reading with that status.
typedef CwStatus (*CwBlockSink)(void *user, const float *samples, size_t n);

/// Read a whole recording block by block into `sink`, with progress ("reading") and cancel through `report`.
/// @param[out] duration_s Seconds read. May be NULL.
/// @return As cw_reader_open() and cw_reader_read(), CW_ERR_CANCELLED, or what `sink` returned.
CW_API CW_NODISCARD CwStatus cw_audio_stream(const char *path, unsigned rate_hz, const CwReport *report,
                                             CwBlockSink sink, void *user, double *duration_s);

CW_END

#endif
