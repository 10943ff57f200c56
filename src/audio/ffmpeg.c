// SPDX-License-Identifier: GPL-3.0-or-later
/// Phone files (m4a, mp4, mov, webm, 3gp) and what else libsndfile cannot read, by FFmpeg's libraries.
///
/// Samples stand where the container's time stamps put them: the encoder's run-in is dropped, and a gap (a late audio
/// track, a packet that is missing or damaged) is silence.
#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/log.h>
#include <libswresample/swresample.h>

#include "audio/back_end.h"
#include "base/memory.h"

// What may be opened: plain media files. Left out are text, pictures, and all that would open further files.
static const char whitelist[] = "aac,ac3,aiff,amr,ape,asf,au,avi,caf,dsf,eac3,flac,flv,matroska,webm,mov,mp4,m4a,3gp,"
                                "3g2,mj2,mp3,mpeg,mpegts,ogg,rm,tta,w64,wav,wv";

// Time stamps are rounded (to a millisecond in webm); only a larger gap is one.
#define LEAST_GAP_S 0.03

typedef struct {
  AVFormatContext *container;
  AVCodecContext *decoder;
  AVPacket *packet;
  AVFrame *frame;  ///< the frame being handed out
  SwrContext *swr; ///< from the frame's sample format to interleaved float
  AVFrame *like;   ///< what `swr` was set up for
  AVChannelLayout layout;
  int stream;
  int rate_hz;
  float *sample; ///< the frame's samples, converted
  size_t room;   ///< in frames
  size_t n;      ///< in frames
  size_t next;
  uint64_t silence;  ///< frames of silence due before them
  uint64_t position; ///< frames made so far, silence included
  int64_t origin;    ///< time stamp of the file's start, in the stream's time base
  bool drained;
} Ffmpeg;

static CwStatus from_av(int error)
{
  switch (error) {
  case AVERROR(ENOMEM):
    return CW_ERR_NO_MEM;
  case AVERROR_DECODER_NOT_FOUND:
    return CW_ERR_UNSUPPORTED;
  default:
    return CW_ERR_NOT_AUDIO;
  }
}

static void close_file(void *state)
{
  Ffmpeg *self = state;
  if (!self) {
    return;
  }
  swr_free(&self->swr);
  av_frame_free(&self->like);
  av_frame_free(&self->frame);
  av_packet_free(&self->packet);
  av_channel_layout_uninit(&self->layout);
  avcodec_free_context(&self->decoder);
  avformat_close_input(&self->container);
  free(self->sample);
  free(self);
}

static CwStatus open_container(Ffmpeg *self, const char *path)
{
  av_log_set_level(AV_LOG_QUIET); // the library never prints; this setting is FFmpeg's for the whole program
  const size_t size = strlen(path) + sizeof "file:";
  char *url = cw_new(size, 1); // so that no part of a name is taken for a protocol
  if (!url) {
    return CW_ERR_NO_MEM;
  }
  snprintf(url, size, "file:%s", path);
  AVDictionary *options = NULL;
  int error = av_dict_set(&options, "format_whitelist", whitelist, 0);
  if (error >= 0) {
    error = av_dict_set(&options, "protocol_whitelist", "file", 0);
  }
  if (error >= 0) {
    error = avformat_open_input(&self->container, url, NULL, &options);
  }
  av_dict_free(&options);
  free(url);
  if (error < 0) {
    return from_av(error);
  }
  if (self->container->probe_score < AVPROBE_SCORE_RETRY) {
    return CW_ERR_NOT_AUDIO; // a guess that chance alone would make
  }
  error = avformat_find_stream_info(self->container, NULL);
  return error < 0 ? from_av(error) : CW_OK;
}

static CwStatus open_decoder(Ffmpeg *self)
{
  const AVCodec *codec = NULL;
  self->stream = av_find_best_stream(self->container, AVMEDIA_TYPE_AUDIO, -1, -1, &codec, 0);
  if (self->stream < 0) {
    return self->stream == AVERROR_STREAM_NOT_FOUND ? CW_ERR_NO_AUDIO_TRACK : from_av(self->stream);
  }
  for (unsigned i = 0; i < self->container->nb_streams; i++) {
    self->container->streams[i]->discard = (int)i == self->stream ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
  }
  const AVStream *stream = self->container->streams[self->stream];
  self->decoder = avcodec_alloc_context3(codec);
  if (!self->decoder) {
    return CW_ERR_NO_MEM;
  }
  int error = avcodec_parameters_to_context(self->decoder, stream->codecpar);
  if (error >= 0) {
    self->decoder->pkt_timebase = stream->time_base; // without it dropped run-in would not move the time stamps
    self->decoder->thread_count = 1;
    error = avcodec_open2(self->decoder, codec, NULL);
  }
  const int64_t start = self->container->start_time;
  self->origin = start == AV_NOPTS_VALUE ? 0 : av_rescale_q(start, AV_TIME_BASE_Q, stream->time_base);
  return error < 0 ? from_av(error) : CW_OK;
}

/// Give the decoder its next packet. @return false when there are no more.
static bool feed(Ffmpeg *self)
{
  while (av_read_frame(self->container, self->packet) >= 0) {
    const bool ours = self->packet->stream_index == self->stream;
    // a packet that the decoder refuses is left out; time stamps turn it into silence
    const bool taken = ours && avcodec_send_packet(self->decoder, self->packet) >= 0;
    av_packet_unref(self->packet);
    if (taken) {
      return true;
    }
  }
  return false;
}

/// Decode the next frame. @return false at the end.
static bool decode(Ffmpeg *self)
{
  while (!self->drained) {
    const int error = avcodec_receive_frame(self->decoder, self->frame);
    if (error >= 0) {
      return true;
    }
    // otherwise it is at the end, wants more, or met damage
    self->drained = error == AVERROR_EOF || (!feed(self) && avcodec_send_packet(self->decoder, NULL) < 0);
  }
  return false;
}

static bool same_form(const AVFrame *a, const AVFrame *b)
{
  return a->format == b->format && a->sample_rate == b->sample_rate &&
         av_channel_layout_compare(&a->ch_layout, &b->ch_layout) == 0;
}

/// Set `swr` up for the present frame, if it is not already.
static CwStatus match_form(Ffmpeg *self)
{
  if (self->swr && same_form(self->frame, self->like)) {
    return CW_OK;
  }
  swr_free(&self->swr);
  av_frame_unref(self->like);
  self->like->format = self->frame->format;
  self->like->sample_rate = self->frame->sample_rate;
  if (av_channel_layout_copy(&self->like->ch_layout, &self->frame->ch_layout) < 0 ||
      swr_alloc_set_opts2(&self->swr, &self->layout, AV_SAMPLE_FMT_FLT, self->rate_hz, &self->frame->ch_layout,
                          self->frame->format, self->frame->sample_rate, 0, NULL) < 0) {
    return CW_ERR_NO_MEM;
  }
  return swr_init(self->swr) < 0 ? CW_ERR_READ : CW_OK;
}

static CwStatus make_room(Ffmpeg *self, size_t frames)
{
  if (frames > self->room) {
    float *grown = cw_resize(self->sample, frames * (size_t)self->layout.nb_channels, sizeof *grown);
    if (!grown) {
      return CW_ERR_NO_MEM;
    }
    self->sample = grown;
    self->room = frames;
  }
  return CW_OK;
}

/// How many frames of silence belong before the present frame by its time stamp.
static uint64_t gap_before(const Ffmpeg *self)
{
  if (self->frame->pts == AV_NOPTS_VALUE) {
    return 0;
  }
  const AVRational base = self->container->streams[self->stream]->time_base;
  const double due = (double)(self->frame->pts - self->origin) * av_q2d(base) * self->rate_hz;
  const double gap = due - (double)self->position;
  // a stamp beyond the limit is damage, not a gap
  return gap > LEAST_GAP_S * self->rate_hz && due < CW_AUDIO_LIMIT_S * self->rate_hz ? (uint64_t)llround(gap) : 0;
}

/// Convert the decoded frame to `sample`.
static CwStatus convert(Ffmpeg *self)
{
  CwStatus status = match_form(self);
  if (status == CW_OK) {
    status = make_room(self, (size_t)swr_get_out_samples(self->swr, self->frame->nb_samples));
  }
  if (status != CW_OK) {
    return status;
  }
  uint8_t *out = (uint8_t *)self->sample;
  const int made = swr_convert(self->swr, &out, (int)self->room, (const uint8_t **)self->frame->extended_data,
                               self->frame->nb_samples);
  if (made < 0) {
    return CW_ERR_READ;
  }
  self->next = 0;
  self->n = (size_t)made;
  self->silence = made > 0 ? gap_before(self) : 0;
  self->position += self->silence + self->n;
  av_frame_unref(self->frame);
  return CW_OK;
}

static void describe(const Ffmpeg *self, CwFileFacts *facts)
{
  const AVStream *stream = self->container->streams[self->stream];
  const char *container = self->container->iformat->name;
  snprintf(facts->info.format, sizeof facts->info.format, "%s in %.*s", avcodec_get_name(self->decoder->codec_id),
           (int)strcspn(container, ","), container);
  facts->info.channels = (unsigned)self->layout.nb_channels;
  facts->info.rate_hz = self->rate_hz;
  facts->rate_hz = (unsigned)self->rate_hz;
  const AVFormatContext *whole = self->container;
  // the stated length may count run-in and padding
  facts->slack_s = fmax(0.1, 3.0 * stream->codecpar->frame_size / self->rate_hz);
  if (stream->duration != AV_NOPTS_VALUE && stream->duration > 0) {
    facts->info.duration_s = (double)stream->duration * av_q2d(stream->time_base);
  } else if (whole->duration != AV_NOPTS_VALUE && whole->duration > 0) {
    facts->info.duration_s = (double)whole->duration / AV_TIME_BASE;
    facts->slack_s = whole->nb_streams == 1 ? facts->slack_s : INFINITY; // the picture may be what lasts so long
  }
  if (whole->duration_estimation_method == AVFMT_DURATION_FROM_BITRATE) {
    facts->slack_s = INFINITY; // a guess from the file's size
  }
}

/// Decode the first frame: only it tells the true rate and channels.
static CwStatus begin(Ffmpeg *self, CwFileFacts *facts)
{
  self->packet = av_packet_alloc();
  self->frame = av_frame_alloc();
  self->like = av_frame_alloc();
  if (!self->packet || !self->frame || !self->like) {
    return CW_ERR_NO_MEM;
  }
  if (!decode(self)) {
    self->rate_hz = 1; // unknown, and unused but for the length
    describe(self, facts);
    return facts->info.duration_s > 0 ? CW_ERR_TRUNCATED : CW_ERR_EMPTY;
  }
  self->rate_hz = self->frame->sample_rate;
  if (self->rate_hz <= 0 || av_channel_layout_copy(&self->layout, &self->frame->ch_layout) < 0) {
    return CW_ERR_NOT_AUDIO;
  }
  describe(self, facts);
  return convert(self);
}

static CwStatus open_file(int descriptor, const char *path, CwFileFacts *facts, void **state)
{
  (void)descriptor; // FFmpeg opens files by name
  *state = NULL;
  Ffmpeg *self = cw_new(1, sizeof *self);
  if (!self) {
    return CW_ERR_NO_MEM;
  }
  CwStatus status = open_container(self, path);
  if (status == CW_OK) {
    status = open_decoder(self);
  }
  if (status == CW_OK) {
    status = begin(self, facts);
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
  Ffmpeg *self = state;
  *n_read = 0;
  while (self->next == self->n && self->silence == 0) {
    if (!decode(self)) {
      return CW_OK;
    }
    const CwStatus status = convert(self);
    if (status != CW_OK) {
      return status;
    }
  }
  const size_t channels = (size_t)self->layout.nb_channels;
  if (self->silence > 0) {
    *n_read = self->silence < n_frames ? (size_t)self->silence : n_frames;
    memset(out, 0, *n_read * channels * sizeof *out);
    self->silence -= *n_read;
    return CW_OK;
  }
  const size_t there = self->n - self->next;
  *n_read = there < n_frames ? there : n_frames;
  memcpy(out, self->sample + self->next * channels, *n_read * channels * sizeof *out);
  self->next += *n_read;
  return CW_OK;
}

const CwBackEnd cw_back_end_ffmpeg = {open_file, read_file, close_file};
