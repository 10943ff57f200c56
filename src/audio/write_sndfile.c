// SPDX-License-Identifier: GPL-3.0-or-later
/// WAV, and the other forms in a build without FFmpeg, by libsndfile.
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <sndfile.h>

#include "audio/write.h"
#include "base/memory.h"

typedef struct {
  SNDFILE *file;
  FILE *stream;
} Sndfile;

static sf_count_t size_of(void *user)
{
  FILE *stream = ((Sndfile *)user)->stream;
  const long at = ftell(stream);
  fseek(stream, 0, SEEK_END);
  const long size = ftell(stream);
  fseek(stream, at, SEEK_SET);
  return size;
}

static sf_count_t seek_to(sf_count_t offset, int whence, void *user)
{
  FILE *stream = ((Sndfile *)user)->stream;
  return fseek(stream, (long)offset, whence) == 0 ? ftell(stream) : -1;
}

static sf_count_t read_from(void *bytes, sf_count_t n, void *user)
{
  (void)bytes;
  (void)n;
  (void)user;
  return 0; // only asked of files that are read
}

static sf_count_t write_to(const void *bytes, sf_count_t n, void *user)
{
  return (sf_count_t)fwrite(bytes, 1, (size_t)n, ((Sndfile *)user)->stream);
}

static sf_count_t tell(void *user)
{
  return ftell(((Sndfile *)user)->stream);
}

static int format_of(CwSoundForm form)
{
  switch (form) {
  case CW_SOUND_WAV:
    return SF_FORMAT_WAV | SF_FORMAT_PCM_16;
  case CW_SOUND_FLAC:
    return SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
  case CW_SOUND_VORBIS:
    return SF_FORMAT_OGG | SF_FORMAT_VORBIS;
  case CW_SOUND_OPUS:
    return SF_FORMAT_OGG | SF_FORMAT_OPUS;
  case CW_SOUND_MP3:
    return SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III;
  default:
    return 0;
  }
}

static void put_tags(SNDFILE *file, const CwSoundOptions *options)
{
  const struct {
    int kind;
    const char *text;
  } tag[] = {{SF_STR_TITLE, options->title},
             {SF_STR_ARTIST, options->artist},
             {SF_STR_ALBUM, options->album},
             {SF_STR_COMMENT, options->comment}};
  for (size_t i = 0; i < sizeof tag / sizeof tag[0]; i++) {
    if (tag[i].text) {
      sf_set_string(file, tag[i].kind, tag[i].text);
    }
  }
}

static void put_number(unsigned char *at, uint32_t number)
{
  for (size_t i = 0; i < 4; i++) {
    at[i] = (unsigned char)(number >> (8 * i));
  }
}

/// The names of WAV's cue points, as a list of labels: libsndfile writes the points alone.
static CwStatus put_labels(SNDFILE *file, const CwSoundOptions *options)
{
  size_t size = 4;
  for (size_t i = 0; i < options->n_chapters; i++) {
    size += 12 + strlen(options->chapter[i].title) + 2;
  }
  unsigned char *list = cw_new(size, 1);
  if (!list) {
    return CW_ERR_NO_MEM;
  }
  memcpy(list, "adtl", 4);
  size = 4;
  for (size_t i = 0; i < options->n_chapters; i++) {
    const size_t length = strlen(options->chapter[i].title) + 1;
    memcpy(list + size, "labl", 4);
    put_number(list + size + 4, (uint32_t)(4 + length));
    put_number(list + size + 8, (uint32_t)(i + 1));
    memcpy(list + size + 12, options->chapter[i].title, length);
    size += 12 + length + length % 2;
  }
  SF_CHUNK_INFO chunk = {.id = "LIST", .id_size = 4, .datalen = (unsigned)size, .data = list};
  sf_set_chunk(file, &chunk);
  free(list);
  return CW_OK;
}

/// Marks of WAV. A form without them goes without.
static CwStatus put_marks(SNDFILE *file, const CwSoundOptions *options)
{
  typedef SF_CUES_VAR(1) Marks;
  if (options->form != CW_SOUND_WAV || options->n_chapters == 0) {
    return CW_OK;
  }
  const size_t size = sizeof(Marks) + options->n_chapters * sizeof(SF_CUE_POINT);
  Marks *marks = cw_new(size, 1);
  if (!marks) {
    return CW_ERR_NO_MEM;
  }
  marks->cue_count = (uint32_t)options->n_chapters;
  SF_CUE_POINT *point = marks->cue_points;
  for (size_t i = 0; i < options->n_chapters; i++) {
    point[i].indx = (int32_t)(i + 1);
    memcpy(&point[i].fcc_chunk, "data", 4);
    point[i].sample_offset = (uint32_t)llround(options->chapter[i].start_s * options->rate_hz);
    point[i].position = point[i].sample_offset;
  }
  sf_command(file, SFC_SET_CUE, marks, (int)size);
  free(marks);
  return put_labels(file, options);
}

static void close_file(void *state)
{
  Sndfile *self = state;
  if (self) {
    sf_close(self->file);
    free(self);
  }
}

/// What a bit rate means to libsndfile: 0 for its highest, 1 for its lowest.
static double compression(const CwSoundOptions *options)
{
  return 1.0 - fmin(1.0, cw_sound_kbit_s(options) / 256.0 / options->channels);
}

static CwStatus open_file(FILE *stream, const CwSoundOptions *options, void **state)
{
  static SF_VIRTUAL_IO through = {size_of, seek_to, read_from, write_to, tell};
  *state = NULL;
  SF_INFO info = {
      .samplerate = (int)options->rate_hz, .channels = (int)options->channels, .format = format_of(options->form)};
  if (!info.format || !sf_format_check(&info)) {
    return CW_ERR_UNSUPPORTED;
  }
  Sndfile *self = cw_new(1, sizeof *self);
  if (!self) {
    return CW_ERR_NO_MEM;
  }
  self->stream = stream;
  self->file = sf_open_virtual(&through, SFM_WRITE, &info, self);
  if (!self->file) {
    free(self);
    return ferror(stream) ? CW_ERR_WRITE : CW_ERR_UNSUPPORTED;
  }
  double level = compression(options);
  if (options->form != CW_SOUND_FLAC) {
    sf_command(self->file, SFC_SET_COMPRESSION_LEVEL, &level, sizeof level);
  }
  put_tags(self->file, options);
  const CwStatus status = put_marks(self->file, options);
  if (status != CW_OK) {
    close_file(self);
    return status;
  }
  *state = self;
  return CW_OK;
}

static CwStatus write_frames(void *state, const float *frame, size_t n_frames)
{
  Sndfile *self = state;
  const sf_count_t n = sf_writef_float(self->file, frame, (sf_count_t)n_frames);
  return n == (sf_count_t)n_frames ? CW_OK : CW_ERR_WRITE;
}

static CwStatus end_file(void *state)
{
  Sndfile *self = state;
  const int error = sf_close(self->file);
  self->file = NULL;
  return error == 0 && !ferror(self->stream) ? CW_OK : CW_ERR_WRITE;
}

const CwSoundBackEnd cw_sound_sndfile = {open_file, write_frames, end_file, close_file};
