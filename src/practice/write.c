// SPDX-License-Identifier: GPL-3.0-or-later
/// From a plan to a file: the recording is read, the whole is mixed, its level is found, and it is written.
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "countwright/audio_write.h"
#include "practice/limiter.h"
#include "practice/meter.h"
#include "practice/mix.h"
#include "practice/practice.h"

enum { BLOCK = 4096, MOST_PASSES = 5 };

/// How loud the music is mixed; words are about -13 LUFS while they sound.
static const double music_lufs = -18;

/// Strokes are turned down by no more than this to make the whole louder: beyond it they lose their beginning.
static const double most_limited_db = 14;

/// How near the level must be.
static const double near_lu = 0.06;

/// How far under the highest peak the ceiling lies: estimates of true peaks differ a little, and a coder that leaves things
/// out makes new peaks.
static const double lossless_margin_db = 0.3;
static const double coded_margin_db = 2.2;

typedef struct {
  CwPractice *practice;
  const CwReport *report;
  CwSoundForm form;
  CwScratch music;
  CwScratch mixed;
  double music_gain;
  double gain;    ///< of the mix
  double ceiling; ///< of true peaks
  CwPracticeResult result;
} Job;

/// Where samples of the recording go.
typedef struct {
  CwScratch *scratch;
  CwMeter *meter;
  long long first; ///< those that are measured: from the first that is played to the last
  long long last;
} Sink;

static CwStatus keep(void *user, const float *sample, size_t n)
{
  Sink *sink = user;
  const long long at = sink->scratch->n;
  const CwStatus status = cw_scratch_add(sink->scratch, sample, n);
  const bool played = at + (long long)n > sink->first && at < sink->last;
  return status == CW_OK && played ? cw_meter_add(sink->meter, sample, n) : status;
}

/// From where to where the recording is played.
static void find_played(const CwPractice *practice, Sink *sink)
{
  const CwScore *score = &practice->score;
  double first_s = INFINITY;
  double last_s = 0;
  for (size_t i = 0; i < score->n_spans; i++) {
    const CwPaceCurve *curve = &score->span[i].curve;
    first_s = fmin(first_s, curve->knot[0].from_s);
    last_s = fmax(last_s, curve->knot[curve->n - 1].from_s);
  }
  sink->first = llround(first_s * practice->rate_hz);
  sink->last = llround(last_s * practice->rate_hz);
}

static CwStatus read_music(Job *job, const char *recording)
{
  Sink sink = {.scratch = &job->music};
  find_played(job->practice, &sink);
  CwStatus status = cw_meter_new(job->practice->rate_hz, &sink.meter);
  if (status == CW_OK) {
    status = cw_audio_stream(recording, job->practice->rate_hz, job->report, keep, &sink, NULL);
  }
  const double lufs = cw_meter_lufs(sink.meter);
  job->music_gain = isnan(lufs) ? 1 : pow(10, (music_lufs - lufs) / 20);
  cw_meter_free(sink.meter);
  return status;
}

static long long length_of(const Job *job)
{
  return llround(job->practice->score.duration_s * job->practice->rate_hz);
}

static CwStatus tell(const Job *job, const char *stage, long long at)
{
  return cw_report_progress(job->report, stage, (double)at / (double)(length_of(job) + 1));
}

/// Mix into the second scratch, and measure.
static CwStatus mix_all(Job *job, CwMix *mix, CwMeter *meter)
{
  float block[BLOCK];
  const long long n = length_of(job);
  CwStatus status = CW_OK;
  for (long long at = 0; at < n && status == CW_OK; at += BLOCK) {
    const size_t now = n - at < BLOCK ? (size_t)(n - at) : BLOCK;
    status = tell(job, "making", at);
    if (status == CW_OK) {
      status = cw_mix_read(mix, block, now);
    }
    if (status == CW_OK) {
      status = cw_scratch_add(&job->mixed, block, now);
    }
    if (status == CW_OK) {
      status = cw_meter_add(meter, block, now);
    }
  }
  return status;
}

/// @param[out] lufs, peak_dbtp Of the mix; NaN when not measured.
static CwStatus make_mix(Job *job, double *lufs, double *peak_dbtp)
{
  const CwPractice *practice = job->practice;
  const CwMixParts parts = {.score = &practice->score,
                            .clips = practice->clips,
                            .music = &job->music,
                            .rate_hz = practice->rate_hz,
                            .music_gain = job->music_gain,
                            .duck_gain = pow(10, -practice->duck_db / 20)};
  CwMeter *meter = NULL;
  CwMix *mix = NULL;
  CwStatus status = cw_meter_new(practice->rate_hz, &meter);
  if (status == CW_OK) {
    status = cw_mix_new(&parts, &mix);
  }
  if (status == CW_OK) {
    status = mix_all(job, mix, meter);
  }
  *lufs = cw_meter_lufs(meter);
  *peak_dbtp = cw_meter_peak_dbtp(meter);
  cw_mix_free(mix);
  cw_meter_free(meter);
  return status;
}

/// Run the mix through a limiter into a meter and, where there is one, a writer.
static CwStatus pass_on(Job *job, const char *stage, CwLimiter *limiter, CwMeter *meter, CwSoundWriter *writer)
{
  float block[BLOCK];
  const long long delay = (long long)cw_limiter_delay(limiter);
  const long long n = length_of(job) + delay;
  CwStatus status = CW_OK;
  for (long long at = 0; at < n && status == CW_OK; at += BLOCK) {
    const size_t now = n - at < BLOCK ? (size_t)(n - at) : BLOCK;
    status = tell(job, stage, at);
    if (status == CW_OK) {
      status = cw_scratch_read(&job->mixed, at, block, now);
    }
    if (status != CW_OK) {
      break;
    }
    cw_limiter_run(limiter, block, now);
    // what comes out first belongs before the beginning
    const size_t skipped = at >= delay ? 0 : delay - at < (long long)now ? (size_t)(delay - at) : now;
    status = cw_meter_add(meter, block + skipped, now - skipped);
    if (status == CW_OK && writer) {
      status = cw_sound_writer_write(writer, block + skipped, now - skipped);
    }
  }
  return status;
}

static CwStatus measure_pass(Job *job, const char *stage, CwSoundWriter *writer)
{
  CwLimiter *limiter = NULL;
  CwMeter *meter = NULL;
  CwStatus status = cw_limiter_new(job->practice->rate_hz, job->gain, job->ceiling, &limiter);
  if (status == CW_OK) {
    status = cw_meter_new(job->practice->rate_hz, &meter);
  }
  if (status == CW_OK) {
    status = pass_on(job, stage, limiter, meter, writer);
  }
  job->result.loudness_lufs = cw_meter_lufs(meter);
  job->result.peak_dbtp = cw_meter_peak_dbtp(meter);
  job->result.limited_db = limiter ? -20 * log10(cw_limiter_least(limiter)) : 0;
  cw_limiter_free(limiter);
  cw_meter_free(meter);
  return status;
}

/// Find the gain at which the whole is as loud as asked; limiting makes it softer, so that it is tried.
static CwStatus find_level(Job *job, double lufs, double peak_dbtp)
{
  const double wanted = job->practice->loudness_lufs;
  if (isnan(lufs)) {
    return CW_OK;
  }
  const double room_db = isnan(peak_dbtp) ? 0 : 20 * log10(job->ceiling) - peak_dbtp;
  double gain_db = fmin(wanted - lufs, room_db + most_limited_db);
  job->gain = pow(10, gain_db / 20);
  if (gain_db < room_db) {
    return CW_OK; // nothing will be limited
  }
  CwStatus status = CW_OK;
  for (int pass = 0; pass < MOST_PASSES && status == CW_OK; pass++) {
    status = measure_pass(job, "levelling", NULL);
    const double missing = wanted - job->result.loudness_lufs;
    if (isnan(missing) || fabs(missing) < near_lu) {
      break;
    }
    gain_db = fmin(gain_db + 1.5 * missing, room_db + most_limited_db); // what is louder is limited more
    job->gain = pow(10, gain_db / 20);
  }
  return status;
}

static CwStatus work(Job *job, const char *recording, const char *path, CwSoundWriter *writer)
{
  double lufs = NAN;
  double peak_dbtp = NAN;
  CwStatus status = cw_scratch_open(path, &job->music);
  if (status == CW_OK) {
    status = cw_scratch_open(path, &job->mixed);
  }
  if (status == CW_OK) {
    status = read_music(job, recording);
  }
  if (status == CW_OK) {
    status = make_mix(job, &lufs, &peak_dbtp);
  }
  if (status == CW_OK) {
    cw_scratch_close(&job->music);
    status = find_level(job, lufs, peak_dbtp);
  }
  return status == CW_OK ? measure_pass(job, "writing", writer) : status;
}

static CwSoundOptions sound_options(const CwPractice *practice, CwSoundForm form)
{
  return (CwSoundOptions){.form = form,
                          .rate_hz = practice->rate_hz,
                          .channels = 1,
                          .kbit_s = practice->kbit_s,
                          .title = practice->title,
                          .album = practice->album,
                          .comment = practice->comment,
                          .chapter = practice->score.chapter,
                          .n_chapters = practice->score.n_chapters,
                          .duration_s = practice->score.duration_s};
}

CwStatus cw_practice_write(CwPractice *practice, const char *recording, const char *path, bool overwrite,
                           const CwReport *report, CwPracticeResult *result)
{
  Job job = {.practice = practice, .report = report, .gain = 1};
  if (!cw_sound_form(path, &job.form)) {
    return CW_ERR_BAD_ARG;
  }
  const bool lossless = job.form == CW_SOUND_WAV || job.form == CW_SOUND_FLAC;
  job.ceiling = pow(10, (CW_PRACTICE_PEAK_DBTP - (lossless ? lossless_margin_db : coded_margin_db)) / 20);
  const CwSoundOptions options = sound_options(practice, job.form);
  CwSoundWriter *writer = NULL;
  CwStatus status = cw_sound_writer_open(path, overwrite, &options, &writer); // first, so that no work is in vain
  if (status == CW_OK) {
    status = work(&job, recording, path, writer);
    cw_scratch_close(&job.music);
    cw_scratch_close(&job.mixed);
    if (status == CW_OK) {
      status = cw_sound_writer_end(writer);
    } else {
      cw_sound_writer_cancel(writer);
    }
  }
  if (status == CW_OK && result) {
    job.result.duration_s = practice->score.duration_s;
    *result = job.result;
  }
  return status;
}
