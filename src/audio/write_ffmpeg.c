// SPDX-License-Identifier: GPL-3.0-or-later
/// FLAC, Ogg, MP3 and m4a by FFmpeg's libraries, which have tags and chapter marks for them.
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/audio_fifo.h>
#include <libavutil/log.h>
#include <libavutil/mem.h>
#include <libavutil/opt.h>
#include <libswresample/swresample.h>

#include "audio/write.h"
#include "base/memory.h"

enum { BUFFER_BYTES = 32768, FREE_FRAME = 4096 };

typedef struct {
  FILE *stream;
  AVIOContext *io;
  AVFormatContext *container;
  AVStream *track;
  AVCodecContext *encoder;
  SwrContext *swr; ///< from interleaved float to what the encoder takes, at its rate
  AVAudioFifo *waiting;
  AVFrame *frame;
  AVPacket *packet;
  int64_t position; ///< samples given to the encoder
} Ffmpeg;

#if LIBAVFORMAT_VERSION_MAJOR >= 61
typedef const uint8_t *Bytes;
#else
typedef uint8_t *Bytes;
#endif

static int write_bytes(void *user, Bytes bytes, int n)
{
  return fwrite(bytes, 1, (size_t)n, (FILE *)user) == (size_t)n ? n : AVERROR(EIO);
}

static int64_t seek_bytes(void *user, int64_t offset, int whence)
{
  FILE *stream = user;
  if (whence & AVSEEK_SIZE) {
    return AVERROR(ENOSYS);
  }
  return fseek(stream, (long)offset, whence & ~AVSEEK_FORCE) == 0 ? ftell(stream) : AVERROR(EIO);
}

static CwStatus from_av(const Ffmpeg *self, int error)
{
  if (error >= 0) {
    return CW_OK;
  }
  return error == AVERROR(ENOMEM) && !ferror(self->stream) ? CW_ERR_NO_MEM : CW_ERR_WRITE;
}

static void close_file(void *state)
{
  Ffmpeg *self = state;
  if (!self) {
    return;
  }
  avcodec_free_context(&self->encoder);
  avformat_free_context(self->container);
  if (self->io) {
    av_freep(&self->io->buffer);
    avio_context_free(&self->io);
  }
  swr_free(&self->swr);
  av_audio_fifo_free(self->waiting);
  av_frame_free(&self->frame);
  av_packet_free(&self->packet);
  free(self);
}

/// How FFmpeg calls a form, and the encoders that do, best first.
static const struct {
  const char *container;
  const char *encoder;
} names[] = {[CW_SOUND_WAV] = {NULL, NULL},
             [CW_SOUND_FLAC] = {"flac", "flac"},
             [CW_SOUND_VORBIS] = {"ogg", "libvorbis"},
             [CW_SOUND_OPUS] = {"opus", "libopus"},
             [CW_SOUND_MP3] = {"mp3", "libmp3lame"},
             [CW_SOUND_M4A] = {"ipod", "aac"}};

static CwStatus make_container(Ffmpeg *self, CwSoundForm form)
{
  const AVOutputFormat *format = av_guess_format(names[form].container, NULL, NULL);
  if (!format) {
    return CW_ERR_UNSUPPORTED;
  }
  unsigned char *buffer = av_malloc(BUFFER_BYTES);
  self->io = buffer ? avio_alloc_context(buffer, BUFFER_BYTES, 1, self->stream, NULL, write_bytes, seek_bytes) : NULL;
  if (!self->io) {
    av_free(buffer);
    return CW_ERR_NO_MEM;
  }
  if (avformat_alloc_output_context2(&self->container, format, NULL, NULL) < 0) {
    return CW_ERR_NO_MEM;
  }
  self->container->pb = self->io;
  self->container->flags |= AVFMT_FLAG_CUSTOM_IO | AVFMT_FLAG_BITEXACT; // the same sound makes the same bytes
  self->track = avformat_new_stream(self->container, NULL);
  return self->track ? CW_OK : CW_ERR_NO_MEM;
}

/// The encoder's rate nearest above `wanted`, else its highest.
static int rate_for(const AVCodec *codec, int wanted)
{
  int best = 0;
  for (const int *rate = codec->supported_samplerates; rate && *rate; rate++) {
    const bool better = best < wanted ? *rate > best : *rate >= wanted && *rate < best;
    best = best == 0 || better ? *rate : best;
  }
  return best ? best : wanted;
}

static enum AVSampleFormat sample_form(const AVCodec *codec)
{
  const enum AVSampleFormat *form = codec->sample_fmts;
  for (; form && *form != AV_SAMPLE_FMT_NONE; form++) {
    if (*form == AV_SAMPLE_FMT_FLTP || *form == AV_SAMPLE_FMT_FLT) {
      return *form;
    }
  }
  return codec->sample_fmts ? codec->sample_fmts[0] : AV_SAMPLE_FMT_S16;
}

static CwStatus make_encoder(Ffmpeg *self, const CwSoundOptions *options)
{
  const AVCodec *codec = avcodec_find_encoder_by_name(names[options->form].encoder);
  if (!codec) {
    return CW_ERR_UNSUPPORTED;
  }
  AVCodecContext *encoder = avcodec_alloc_context3(codec);
  self->encoder = encoder;
  if (!encoder) {
    return CW_ERR_NO_MEM;
  }
  encoder->sample_rate = rate_for(codec, (int)options->rate_hz);
  encoder->sample_fmt = sample_form(codec);
  encoder->bit_rate = (int64_t)cw_sound_kbit_s(options) * 1000;
  encoder->time_base = (AVRational){1, encoder->sample_rate};
  encoder->thread_count = 1;
  encoder->flags |= AV_CODEC_FLAG_BITEXACT;
  if (self->container->oformat->flags & AVFMT_GLOBALHEADER) {
    encoder->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
  }
  av_channel_layout_default(&encoder->ch_layout, (int)options->channels);
  if (avcodec_open2(encoder, codec, NULL) < 0 || avcodec_parameters_from_context(self->track->codecpar, encoder) < 0) {
    return CW_ERR_UNSUPPORTED;
  }
  self->track->time_base = encoder->time_base;
  return CW_OK;
}

/// What makes up for LAME, which turns sound down at bit rates up to 224 kbit/s so that it does not clip: measured, and as
/// in its table of presets.
static double make_up(const CwSoundOptions *options)
{
  const unsigned kbit_s = cw_sound_kbit_s(options);
  if (options->form != CW_SOUND_MP3 || kbit_s >= 240) {
    return 1;
  }
  return 1 / (kbit_s < 176 ? 0.95 : kbit_s < 208 ? 0.97 : 0.98);
}

static CwStatus make_buffers(Ffmpeg *self, const CwSoundOptions *options)
{
  AVCodecContext *encoder = self->encoder;
  if (swr_alloc_set_opts2(&self->swr, &encoder->ch_layout, encoder->sample_fmt, encoder->sample_rate,
                          &encoder->ch_layout, AV_SAMPLE_FMT_FLT, (int)options->rate_hz, 0, NULL) < 0 ||
      av_opt_set_double(self->swr, "rmvol", make_up(options), 0) < 0 || swr_init(self->swr) < 0) {
    return CW_ERR_NO_MEM;
  }
  self->waiting = av_audio_fifo_alloc(encoder->sample_fmt, (int)options->channels, 2 * FREE_FRAME);
  self->frame = av_frame_alloc();
  self->packet = av_packet_alloc();
  if (!self->waiting || !self->frame || !self->packet) {
    return CW_ERR_NO_MEM;
  }
  self->frame->nb_samples = encoder->frame_size ? encoder->frame_size : FREE_FRAME;
  self->frame->format = encoder->sample_fmt;
  self->frame->sample_rate = encoder->sample_rate;
  const bool good = av_channel_layout_copy(&self->frame->ch_layout, &encoder->ch_layout) >= 0 &&
                    av_frame_get_buffer(self->frame, 0) >= 0;
  return good ? CW_OK : CW_ERR_NO_MEM;
}

static int put_tag(Ffmpeg *self, const char *key, const char *text)
{
  return text ? av_dict_set(&self->container->metadata, key, text, 0) : 0;
}

/// In FLAC and Ogg marks are tags; FFmpeg's own writing of them rounds seconds up in some files and has none in others.
static int put_mark_as_tags(Ffmpeg *self, size_t i, const CwSoundChapter *chapter)
{
  char key[32];
  char time[32];
  const long long ms = llround(chapter->start_s * 1000);
  snprintf(key, sizeof key, "CHAPTER%03zu", i + 1);
  snprintf(time, sizeof time, "%02lld:%02lld:%02lld.%03lld", ms / 3600000, ms / 60000 % 60, ms / 1000 % 60, ms % 1000);
  const int error = put_tag(self, key, time);
  snprintf(key, sizeof key, "CHAPTER%03zuNAME", i + 1);
  return error < 0 ? error : put_tag(self, key, chapter->title);
}

static int put_mark(Ffmpeg *self, const CwSoundOptions *options, size_t i)
{
  const CwSoundChapter *chapter = &options->chapter[i];
  const bool last = i + 1 == options->n_chapters;
  const double end_s = last ? fmax(options->duration_s, chapter->start_s) : options->chapter[i + 1].start_s;
  AVChapter *mark = av_mallocz(sizeof *mark);
  if (!mark) {
    return AVERROR(ENOMEM);
  }
  *mark = (AVChapter){.id = (int64_t)i + 1,
                      .time_base = {1, 1000},
                      .start = llround(chapter->start_s * 1000),
                      .end = llround(end_s * 1000)};
  self->container->chapters[self->container->nb_chapters++] = mark; // released with the container
  return av_dict_set(&mark->metadata, "title", chapter->title, 0);
}

static CwStatus put_words(Ffmpeg *self, const CwSoundOptions *options)
{
  int error = put_tag(self, "title", options->title);
  error = error < 0 ? error : put_tag(self, "artist", options->artist);
  error = error < 0 ? error : put_tag(self, "album", options->album);
  error = error < 0 ? error : put_tag(self, "comment", options->comment);
  const bool as_tags = options->form != CW_SOUND_MP3 && options->form != CW_SOUND_M4A;
  if (error >= 0 && options->n_chapters > 0 && !as_tags) {
    self->container->chapters = av_calloc(options->n_chapters, sizeof *self->container->chapters);
    error = self->container->chapters ? 0 : AVERROR(ENOMEM);
  }
  for (size_t i = 0; i < options->n_chapters && error >= 0; i++) {
    error = as_tags ? put_mark_as_tags(self, i, &options->chapter[i]) : put_mark(self, options, i);
  }
  return error < 0 ? CW_ERR_NO_MEM : CW_OK;
}

static CwStatus begin(Ffmpeg *self, const CwSoundOptions *options)
{
  av_log_set_level(AV_LOG_QUIET); // the library never prints; this setting is FFmpeg's for the whole program
  CwStatus status = make_container(self, options->form);
  if (status == CW_OK) {
    status = make_encoder(self, options);
  }
  if (status == CW_OK) {
    status = make_buffers(self, options);
  }
  if (status == CW_OK) {
    status = put_words(self, options);
  }
  return status == CW_OK ? from_av(self, avformat_write_header(self->container, NULL)) : status;
}

static CwStatus open_file(FILE *stream, const CwSoundOptions *options, void **state)
{
  *state = NULL;
  if (!names[options->form].container) {
    return CW_ERR_UNSUPPORTED;
  }
  Ffmpeg *self = cw_new(1, sizeof *self);
  if (!self) {
    return CW_ERR_NO_MEM;
  }
  self->stream = stream;
  const CwStatus status = begin(self, options);
  if (status != CW_OK) {
    close_file(self);
    return status;
  }
  *state = self;
  return CW_OK;
}

/// Put what the encoder has ready into the file.
static CwStatus collect(Ffmpeg *self)
{
  int error = 0;
  while (error >= 0) {
    error = avcodec_receive_packet(self->encoder, self->packet);
    if (error == AVERROR(EAGAIN) || error == AVERROR_EOF) {
      return ferror(self->stream) ? CW_ERR_WRITE : CW_OK;
    }
    if (error >= 0) {
      av_packet_rescale_ts(self->packet, self->encoder->time_base, self->track->time_base);
      self->packet->stream_index = self->track->index;
      error = av_interleaved_write_frame(self->container, self->packet);
    }
  }
  return from_av(self, error);
}

/// Encode one frame of `n` waiting samples.
static CwStatus encode(Ffmpeg *self, int n)
{
  int error = av_frame_make_writable(self->frame);
  if (error < 0) {
    return CW_ERR_NO_MEM;
  }
  self->frame->nb_samples = n;
  if (av_audio_fifo_read(self->waiting, (void **)self->frame->extended_data, n) < n) {
    return CW_ERR_WRITE;
  }
  self->frame->pts = self->position;
  self->position += n;
  error = avcodec_send_frame(self->encoder, self->frame);
  return error < 0 ? from_av(self, error) : collect(self);
}

/// Convert samples and let them wait. @param frame NULL for those that the conversion still holds.
static CwStatus take(Ffmpeg *self, const float *frame, int n_frames)
{
  const int room = swr_get_out_samples(self->swr, n_frames);
  uint8_t **converted = NULL;
  if (room <= 0) {
    return CW_OK;
  }
  if (av_samples_alloc_array_and_samples(&converted, NULL, self->encoder->ch_layout.nb_channels, room,
                                         self->encoder->sample_fmt, 0) < 0) {
    return CW_ERR_NO_MEM;
  }
  const uint8_t *in = (const uint8_t *)frame;
  const int n = swr_convert(self->swr, converted, room, frame ? &in : NULL, n_frames);
  const bool good = n >= 0 && av_audio_fifo_write(self->waiting, (void **)converted, n) == n;
  av_freep(&converted[0]);
  av_freep(&converted);
  return good ? CW_OK : CW_ERR_NO_MEM;
}

static CwStatus write_frames(void *state, const float *frame, size_t n_frames)
{
  Ffmpeg *self = state;
  const int at_once = self->encoder->frame_size ? self->encoder->frame_size : FREE_FRAME;
  CwStatus status = take(self, frame, (int)n_frames);
  while (status == CW_OK && av_audio_fifo_size(self->waiting) >= at_once) {
    status = encode(self, at_once);
  }
  return status;
}

static CwStatus end_file(void *state)
{
  Ffmpeg *self = state;
  CwStatus status = take(self, NULL, 0);
  const int at_once = self->encoder->frame_size ? self->encoder->frame_size : FREE_FRAME;
  while (status == CW_OK && av_audio_fifo_size(self->waiting) > 0) {
    const int there = av_audio_fifo_size(self->waiting);
    status = encode(self, there < at_once ? there : at_once);
  }
  if (status == CW_OK) {
    status = from_av(self, avcodec_send_frame(self->encoder, NULL));
  }
  if (status == CW_OK) {
    status = collect(self);
  }
  if (status == CW_OK) {
    status = from_av(self, av_write_trailer(self->container));
  }
  avio_flush(self->io);
  return status == CW_OK && (self->io->error < 0 || ferror(self->stream)) ? CW_ERR_WRITE : status;
}

const CwSoundBackEnd cw_sound_ffmpeg = {open_file, write_frames, end_file, close_file};
