// SPDX-License-Identifier: GPL-3.0-or-later
/// WAV, AIFF, FLAC, Ogg, Opus, MP3 and the like, by libsndfile.
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <sndfile.h>

#include "audio/back_end.h"
#include "audio/file.h"
#include "base/memory.h"

typedef struct {
  SNDFILE *file;
  int descriptor; ///< our own copy, so that it is plain who closes it
} Sndfile;

/// A name such as "WAV (Microsoft)", of `format` or of its subtype.
static const char *format_name(int format)
{
  SF_FORMAT_INFO info = {.format = format};
  return sf_command(NULL, SFC_GET_FORMAT_INFO, &info, sizeof info) == 0 && info.name ? info.name : "audio";
}

static void describe(const SF_INFO *sound, CwFileFacts *facts)
{
  const char *major = format_name(sound->format & SF_FORMAT_TYPEMASK);
  const int length = (int)strcspn(major, "(");
  const int trimmed = length > 0 && major[length - 1] == ' ' ? length - 1 : length;
  snprintf(facts->info.format, sizeof facts->info.format, "%.*s, %s", trimmed, major,
           format_name(sound->format & SF_FORMAT_SUBMASK));
  facts->info.channels = (unsigned)sound->channels;
  facts->info.rate_hz = sound->samplerate;
  facts->rate_hz = (unsigned)sound->samplerate;
  facts->slack_s = 0.05; // a last MP3 frame may be missing from a file that is whole
}

static CwStatus measure(int descriptor, const SF_INFO *sound, CwFileFacts *facts)
{
  const double promise = cw_file_promise(descriptor);
  if (sound->frames <= 0) {
    if (cw_file_unclosed(descriptor)) {
      return CW_ERR_NOT_AUDIO; // FFmpeg reads it to its end
    }
    return promise > 1 ? CW_ERR_TRUNCATED : CW_ERR_EMPTY;
  }
  describe(sound, facts);
  if (sound->frames < SF_COUNT_MAX / 2) { // else it is not stated, as in a FLAC file written to a pipe
    facts->info.duration_s = (double)sound->frames * promise / sound->samplerate;
  }
  return CW_OK;
}

static void close_file(void *state)
{
  Sndfile *self = state;
  if (self) {
    sf_close(self->file);
    if (self->descriptor >= 0) {
      close(self->descriptor);
    }
    free(self);
  }
}

static CwStatus open_file(int descriptor, const char *path, CwFileFacts *facts, void **state)
{
  (void)path; // by descriptor, libsndfile cannot take the name's ending for the format of a file with no header
  *state = NULL;
  Sndfile *self = cw_new(1, sizeof *self);
  if (!self) {
    return CW_ERR_NO_MEM;
  }
  SF_INFO sound = {0};
  self->descriptor = dup(descriptor);
  CwStatus status = CW_ERR_READ;
  if (self->descriptor >= 0) {
    self->file = sf_open_fd(self->descriptor, SFM_READ, &sound, SF_FALSE);
    status = self->file ? measure(descriptor, &sound, facts) : CW_ERR_NOT_AUDIO;
  }
  if (status != CW_OK) {
    close_file(self);
    return status;
  }
  *state = self;
  return CW_OK;
}

static CwStatus read_file(void *state, float *out, size_t n_frames, size_t *n_read)
{
  Sndfile *self = state;
  // damage in the middle ends the reading: what came before it is kept, and the reader says that it ends early
  const sf_count_t n = sf_readf_float(self->file, out, (sf_count_t)n_frames);
  *n_read = n > 0 ? (size_t)n : 0;
  return CW_OK;
}

const CwBackEnd cw_back_end_sndfile = {open_file, read_file, close_file};
