// SPDX-License-Identifier: GPL-3.0-or-later
/// Sound files: forms by name, a file that is whole or not there, and samples kept within bounds.
#include "audio/write.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "base/output.h"

enum { BLOCK_SAMPLES = 4096 };

struct CwSoundWriter {
  const CwSoundBackEnd *back_end;
  void *state;
  CwOutput output;
  FILE *scratch; ///< where a sound for memory is written meanwhile; it has no name
  unsigned channels;
};

// in the order of cw_sound_endings()
static const CwSoundForm form_of_ending[] = {CW_SOUND_WAV,  CW_SOUND_FLAC, CW_SOUND_VORBIS, CW_SOUND_VORBIS,
                                             CW_SOUND_OPUS, CW_SOUND_MP3,  CW_SOUND_M4A,    CW_SOUND_M4A};

const char *const *cw_sound_endings(void)
{
  static const char *const ending[] = {".wav", ".flac", ".ogg", ".oga", ".opus", ".mp3", ".m4a", ".mp4", NULL};
  return ending;
}

bool cw_sound_form(const char *path, CwSoundForm *form)
{
  const char *const *ending = cw_sound_endings();
  const size_t length = strlen(path);
  for (size_t i = 0; ending[i]; i++) {
    const size_t tail = strlen(ending[i]);
    if (length > tail && strcasecmp(path + length - tail, ending[i]) == 0) {
      *form = form_of_ending[i];
      return true;
    }
  }
  return false;
}

unsigned cw_sound_kbit_s(const CwSoundOptions *options)
{
  // usual rates for a listener with earphones, and what the encoders take; from memory of their documentation
  static const struct {
    unsigned least, most, mono, stereo;
  } rate[] = {
      [CW_SOUND_WAV] = {0, 0, 0, 0},       [CW_SOUND_FLAC] = {0, 0, 0, 0},      [CW_SOUND_VORBIS] = {48, 190, 80, 128},
      [CW_SOUND_OPUS] = {8, 256, 64, 112}, [CW_SOUND_MP3] = {32, 320, 96, 160}, [CW_SOUND_M4A] = {24, 256, 96, 160}};
  const unsigned usual = options->channels > 1 ? rate[options->form].stereo : rate[options->form].mono;
  const unsigned wanted = options->kbit_s ? options->kbit_s : usual;
  const unsigned kept = wanted < rate[options->form].most ? wanted : rate[options->form].most;
  return kept > rate[options->form].least ? kept : rate[options->form].least;
}

static bool are_good(const CwSoundOptions *options)
{
  return options->form <= CW_SOUND_M4A && options->rate_hz >= 8000 && options->rate_hz <= 192000 &&
         options->channels >= 1 && options->channels <= 2;
}

static CwStatus open_encoder(CwSoundWriter *writer, FILE *stream, const CwSoundOptions *options)
{
#ifdef CW_HAVE_FFMPEG
  static const CwSoundBackEnd *const all[] = {&cw_sound_ffmpeg, &cw_sound_sndfile};
#else
  static const CwSoundBackEnd *const all[] = {&cw_sound_sndfile};
#endif
  CwStatus status = CW_ERR_UNSUPPORTED;
  for (size_t i = 0; i < sizeof all / sizeof all[0] && status == CW_ERR_UNSUPPORTED; i++) {
    writer->back_end = all[i];
    status = all[i]->open(stream, options, &writer->state);
  }
  return status;
}

/// @param path NULL for memory.
static CwStatus open_writer(const char *path, bool overwrite, const CwSoundOptions *options, CwSoundWriter **writer)
{
  *writer = NULL;
  if (!are_good(options)) {
    return CW_ERR_BAD_ARG;
  }
  CwSoundWriter *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  made->channels = options->channels;
  CwStatus status = CW_OK;
  if (path) {
    status = cw_output_begin(path, overwrite, &made->output);
  } else {
    made->scratch = tmpfile();
    status = made->scratch ? CW_OK : CW_ERR_WRITE;
  }
  if (status == CW_OK) {
    status = open_encoder(made, path ? made->output.stream : made->scratch, options);
  }
  if (status != CW_OK) {
    cw_sound_writer_cancel(made);
    return status;
  }
  *writer = made;
  return CW_OK;
}

CwStatus cw_sound_writer_open(const char *path, bool overwrite, const CwSoundOptions *options, CwSoundWriter **writer)
{
  return open_writer(path, overwrite, options, writer);
}

CwStatus cw_sound_writer_open_memory(const CwSoundOptions *options, CwSoundWriter **writer)
{
  return open_writer(NULL, false, options, writer);
}

static float tamed(float sample)
{
  if (!isfinite(sample)) {
    return 0;
  }
  return sample > 1 ? 1 : sample < -1 ? -1 : sample;
}

CwStatus cw_sound_writer_write(CwSoundWriter *writer, const float *frame, size_t n_frames)
{
  float block[BLOCK_SAMPLES];
  const size_t at_once = BLOCK_SAMPLES / writer->channels;
  while (n_frames > 0) {
    const size_t n = n_frames < at_once ? n_frames : at_once;
    for (size_t i = 0; i < n * writer->channels; i++) {
      block[i] = tamed(frame[i]);
    }
    const CwStatus status = writer->back_end->write(writer->state, block, n);
    if (status != CW_OK) {
      return status;
    }
    frame += n * writer->channels;
    n_frames -= n;
  }
  return CW_OK;
}

/// Let the encoder finish, and release it.
static CwStatus end_encoder(CwSoundWriter *writer)
{
  const CwStatus status = writer->back_end->end(writer->state);
  writer->back_end->close(writer->state);
  writer->state = NULL;
  return status;
}

CwStatus cw_sound_writer_end(CwSoundWriter *writer)
{
  CwStatus status = writer->scratch ? CW_ERR_BAD_ARG : end_encoder(writer);
  if (status == CW_OK) {
    status = cw_output_end(&writer->output);
  }
  cw_sound_writer_cancel(writer);
  return status;
}

static CwStatus read_back(FILE *scratch, void **bytes, size_t *size)
{
  if (fflush(scratch) != 0 || ferror(scratch) || fseek(scratch, 0, SEEK_END) != 0) {
    return CW_ERR_WRITE;
  }
  const long length = ftell(scratch);
  if (length < 0) {
    return CW_ERR_WRITE;
  }
  rewind(scratch);
  *bytes = cw_new((size_t)length, 1);
  if (!*bytes) {
    return CW_ERR_NO_MEM;
  }
  *size = (size_t)length;
  if (fread(*bytes, 1, *size, scratch) != *size) {
    free(*bytes);
    *bytes = NULL;
    *size = 0;
    return CW_ERR_WRITE;
  }
  return CW_OK;
}

CwStatus cw_sound_writer_take(CwSoundWriter *writer, void **bytes, size_t *size)
{
  *bytes = NULL;
  *size = 0;
  CwStatus status = writer->scratch ? end_encoder(writer) : CW_ERR_BAD_ARG;
  if (status == CW_OK) {
    status = read_back(writer->scratch, bytes, size);
  }
  cw_sound_writer_cancel(writer);
  return status;
}

void cw_sound_writer_cancel(CwSoundWriter *writer)
{
  if (!writer) {
    return;
  }
  if (writer->state) {
    writer->back_end->close(writer->state);
  }
  cw_output_cancel(&writer->output);
  if (writer->scratch) {
    fclose(writer->scratch);
  }
  free(writer);
}
