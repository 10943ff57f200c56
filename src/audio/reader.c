// SPDX-License-Identifier: GPL-3.0-or-later
/// Decode, average the channels, resample: one block at a time.
#include "audio/reader.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "audio/file.h"
#include "audio/resample.h"
#include "base/memory.h"
#include "countwright/time_text.h"

enum { BLOCK_FRAMES = 4096, MOST_CHANNELS = 1024 };

struct CwReader {
  const CwBackEnd *back_end;
  void *state;
  CwFileFacts facts;
  CwReport report;
  unsigned rate_hz;
  CwResampler *resampler; ///< NULL when the rate stays
  float *decoded;         ///< a block as decoded
  float *mono;            ///< the same, averaged
  float *ready;           ///< mono at the asked rate, not yet handed out; is `mono` when the rate stays
  size_t n_ready;
  size_t next;
  uint64_t frames; ///< decoded so far
  uint64_t bad_samples;
  bool ended;
  bool truncated;
};

/// The average of a frame with samples that are not finite taken as silence.
static float careful_average(CwReader *reader, const float *frame, unsigned channels)
{
  double sum = 0;
  for (unsigned c = 0; c < channels; c++) {
    if (isfinite(frame[c])) {
      sum += (double)frame[c];
    } else {
      reader->bad_samples++;
    }
  }
  return (float)(sum / channels);
}

static void mix(CwReader *reader, size_t n_frames)
{
  const unsigned channels = reader->facts.info.channels;
  const float scale = 1.0F / (float)channels;
  const float *frame = reader->decoded;
  for (size_t i = 0; i < n_frames; i++, frame += channels) {
    float sum = frame[0];
    for (unsigned c = 1; c < channels; c++) {
      sum += frame[c];
    }
    reader->mono[i] = isfinite(sum) ? sum * scale : careful_average(reader, frame, channels);
  }
}

static void tell_end(CwReader *reader)
{
  const double read_s = (double)reader->frames / reader->facts.rate_hz;
  const double promised_s = reader->facts.info.duration_s;
  reader->truncated = read_s + reader->facts.slack_s < promised_s;
  if (reader->truncated && reader->frames > 0) {
    char there[24];
    char promised[24];
    cw_format_time(read_s, there);
    cw_format_time(promised_s, promised);
    cw_report_notice(&reader->report, "the recording ends early: %s of %s is there", there, promised);
  }
  if (reader->bad_samples > 0) {
    const unsigned long long n = reader->bad_samples;
    cw_report_notice(&reader->report,
                     n == 1 ? "%llu sample was not finite and is taken as silence"
                            : "%llu samples were not finite and are taken as silence",
                     n);
  }
}

/// Decode the next block into `ready`. After it, `ready` is empty only at the end.
static CwStatus fill(CwReader *reader)
{
  reader->next = 0;
  reader->n_ready = 0;
  while (reader->n_ready == 0 && !reader->ended) {
    size_t n = 0;
    CwStatus status = reader->back_end->read(reader->state, reader->decoded, BLOCK_FRAMES, &n);
    if (status != CW_OK) {
      return status;
    }
    reader->frames += n;
    if ((double)reader->frames / reader->facts.rate_hz > CW_AUDIO_LIMIT_S) {
      return CW_ERR_TOO_LONG;
    }
    mix(reader, n);
    reader->ended = n == 0;
    if (reader->resampler) {
      status = cw_resampler_run(reader->resampler, reader->mono, n, reader->ended, reader->ready, &reader->n_ready);
    } else {
      reader->n_ready = n;
    }
    if (status != CW_OK) {
      return status;
    }
    if (reader->ended) {
      tell_end(reader);
    }
  }
  return CW_OK;
}

static CwStatus make_buffers(CwReader *reader)
{
  reader->decoded = cw_new((size_t)BLOCK_FRAMES * reader->facts.info.channels, sizeof(float));
  reader->mono = cw_new(BLOCK_FRAMES, sizeof(float));
  if (!reader->decoded || !reader->mono) {
    return CW_ERR_NO_MEM;
  }
  if (reader->facts.rate_hz == reader->rate_hz) {
    reader->ready = reader->mono;
    return CW_OK;
  }
  const CwStatus status = cw_resampler_new(reader->facts.rate_hz, reader->rate_hz, &reader->resampler);
  if (status != CW_OK) {
    return status;
  }
  reader->ready = cw_new(cw_resampler_room(reader->resampler, BLOCK_FRAMES), sizeof(float));
  return reader->ready ? CW_OK : CW_ERR_NO_MEM;
}

static CwStatus check_facts(const CwFileFacts *facts)
{
  if (facts->info.channels < 1 || facts->info.channels > MOST_CHANNELS || facts->rate_hz < 1000 ||
      facts->rate_hz > 1000000) {
    return CW_ERR_NOT_AUDIO;
  }
  const bool stated = isfinite(facts->slack_s);
  return stated && facts->info.duration_s > CW_AUDIO_LIMIT_S ? CW_ERR_TOO_LONG : CW_OK;
}

static CwStatus begin(CwReader *reader)
{
  CwStatus status = check_facts(&reader->facts);
  if (status == CW_OK) {
    status = make_buffers(reader);
  }
  if (status == CW_OK) {
    status = fill(reader);
  }
  if (status == CW_OK && reader->frames == 0) {
    return reader->truncated ? CW_ERR_TRUNCATED : CW_ERR_EMPTY;
  }
  return status;
}

CwStatus cw_reader_open_by(const CwBackEnd *const *table, size_t n, int descriptor, const char *path, unsigned rate_hz,
                           const CwReport *report, CwReader **reader)
{
  *reader = NULL;
  CwReader *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  made->rate_hz = rate_hz;
  made->report = report ? *report : (CwReport){0};
  CwStatus status = CW_ERR_NOT_AUDIO;
  for (size_t i = 0; i < n && status == CW_ERR_NOT_AUDIO; i++) {
    made->back_end = table[i];
    status = table[i]->open(descriptor, path, &made->facts, &made->state);
  }
  if (status == CW_ERR_NOT_AUDIO) {
    status = cw_file_why_not(descriptor);
  } else if (status == CW_OK) {
    status = begin(made);
  }
  if (status != CW_OK) {
    cw_reader_free(made);
    return status;
  }
  *reader = made;
  return CW_OK;
}

static CwStatus open_by_kind(int descriptor, const char *path, unsigned rate_hz, const CwReport *report,
                             CwReader **reader)
{
#ifdef CW_HAVE_FFMPEG
  static const CwBackEnd *const all[] = {&cw_back_end_sndfile, &cw_back_end_ffmpeg};
  if (cw_file_seems_mp3(descriptor)) { // libsndfile's decoder would print its doubts of a damaged one
    return cw_reader_open_by(all + 1, 1, descriptor, path, rate_hz, report, reader);
  }
#else
  static const CwBackEnd *const all[] = {&cw_back_end_sndfile};
#endif
  return cw_reader_open_by(all, sizeof all / sizeof all[0], descriptor, path, rate_hz, report, reader);
}

CwStatus cw_reader_open(const char *path, unsigned rate_hz, const CwReport *report, CwReader **reader)
{
  *reader = NULL;
  if (!path || rate_hz < 8000 || rate_hz > 192000) {
    return CW_ERR_BAD_ARG;
  }
  int descriptor = -1;
  CwStatus status = cw_file_open(path, report, &descriptor);
  if (status == CW_OK) {
    status = open_by_kind(descriptor, path, rate_hz, report, reader);
    close(descriptor);
  }
  return status;
}

CwStatus cw_reader_read(CwReader *reader, float *out, size_t capacity, size_t *n_read)
{
  *n_read = 0;
  while (*n_read < capacity) {
    if (reader->next == reader->n_ready) {
      const CwStatus status = fill(reader);
      if (status != CW_OK) {
        return status;
      }
      if (reader->n_ready == 0) {
        break;
      }
    }
    const size_t there = reader->n_ready - reader->next;
    const size_t wanted = capacity - *n_read;
    const size_t n = there < wanted ? there : wanted;
    memcpy(out + *n_read, reader->ready + reader->next, n * sizeof *out);
    reader->next += n;
    *n_read += n;
  }
  return CW_OK;
}

const CwAudioInfo *cw_reader_info(const CwReader *reader)
{
  return &reader->facts.info;
}

uint64_t cw_reader_bad_samples(const CwReader *reader)
{
  return reader->bad_samples;
}

bool cw_reader_truncated(const CwReader *reader)
{
  return reader->truncated;
}

void cw_reader_free(CwReader *reader)
{
  if (!reader) {
    return;
  }
  if (reader->state) {
    reader->back_end->close(reader->state);
  }
  if (reader->ready != reader->mono) {
    free(reader->ready);
  }
  cw_resampler_free(reader->resampler);
  free(reader->decoded);
  free(reader->mono);
  free(reader);
}
