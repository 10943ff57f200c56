// SPDX-License-Identifier: GPL-3.0-or-later
/// Progress, cancelling, the limit of length, and a failing back end.
#include "unit/cw_test.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <sndfile.h>

#include "audio/reader.h"
#include "audio_files.h"

typedef struct {
  int calls;
  int cancel_at; ///< 0: never
  double last_fraction;
  size_t samples;
  CwStatus sink_says;
} Told;

static bool told_progress(void *user, const char *stage, double fraction)
{
  Told *told = user;
  assert_string_equal(stage, "reading");
  assert_true(fraction >= told->last_fraction && fraction <= 1.0);
  told->last_fraction = fraction;
  return ++told->calls != told->cancel_at;
}

static CwStatus take(void *user, const float *samples, size_t n)
{
  Told *told = user;
  assert_non_null(samples);
  told->samples += n;
  return told->sink_says;
}

static void make_three_seconds(void)
{
  float *samples = calloc((size_t)3 * 44100, sizeof *samples);
  assert_non_null(samples);
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, samples, (size_t)3 * 44100);
  free(samples);
}

static void a_recording_streams_with_progress(void **state)
{
  (void)state;
  make_three_seconds();
  Told told = {0};
  const CwReport report = {.progress = told_progress, .user = &told};
  double duration_s = 0;
  assert_int_equal(cw_audio_stream(MADE_FILE, 22050, &report, take, &told, &duration_s), CW_OK);
  assert_near(duration_s, 3.0, 1e-4);
  assert_int_equal(told.samples, 3 * 22050);
  assert_true(told.calls > 3);
  assert_near(told.last_fraction, 1.0, 1e-4);
  assert_int_equal(cw_audio_stream(MADE_FILE, 22050, NULL, take, &told, NULL), CW_OK);
  unlink(MADE_FILE);
}

static void cancelling_and_the_sink_end_it(void **state)
{
  (void)state;
  make_three_seconds();
  Told told = {.cancel_at = 3};
  const CwReport report = {.progress = told_progress, .user = &told};
  assert_int_equal(cw_audio_stream(MADE_FILE, 22050, &report, take, &told, NULL), CW_ERR_CANCELLED);
  assert_int_equal(told.calls, 3);
  told = (Told){.sink_says = CW_ERR_NO_MEM};
  assert_int_equal(cw_audio_stream(MADE_FILE, 22050, &report, take, &told, NULL), CW_ERR_NO_MEM);
  assert_int_equal(told.calls, 1);
  unlink(MADE_FILE);
  double duration_s = 1;
  assert_int_equal(cw_audio_stream("no-such-file", 22050, NULL, take, &told, &duration_s), CW_ERR_NOT_FOUND);
  assert_near(duration_s, 0, 0);
}

/// A back end whose file does not know its length and never ends.
static CwStatus endless_open(int descriptor, const char *path, CwFileFacts *facts, void **handle)
{
  (void)descriptor;
  (void)path;
  static int anything;
  *handle = &anything;
  facts->info.channels = 1;
  facts->info.rate_hz = facts->rate_hz = 8000;
  return CW_OK;
}

static CwStatus endless_read(void *handle, float *out, size_t n_frames, size_t *n_read)
{
  (void)handle;
  memset(out, 0, n_frames * sizeof *out);
  *n_read = n_frames;
  return CW_OK;
}

static CwStatus failing_read(void *handle, float *out, size_t n_frames, size_t *n_read)
{
  static int calls;
  return ++calls < 3 ? endless_read(handle, out, n_frames, n_read) : CW_ERR_READ;
}

static void endless_close(void *handle)
{
  (void)handle;
}

static CwStatus other_format(int descriptor, const char *path, CwFileFacts *facts, void **handle)
{
  (void)descriptor;
  (void)path;
  (void)facts;
  *handle = NULL;
  return CW_ERR_NOT_AUDIO;
}

/// Read all that `back_end` gives, after one that does not know the format. @return Samples read.
static size_t read_from(const CwBackEnd *back_end, CwStatus *status)
{
  static const CwBackEnd unknowing = {other_format, endless_read, endless_close};
  const CwBackEnd *const table[] = {&unknowing, back_end};
  const int descriptor = open("/dev/null", O_RDONLY);
  assert_true(descriptor >= 0);
  CwReader *reader = NULL;
  assert_int_equal(cw_reader_open_by(table, 2, descriptor, "x", 8000, NULL, &reader), CW_OK);
  close(descriptor);
  float block[8192];
  size_t total = 0;
  size_t n = 0;
  while ((*status = cw_reader_read(reader, block, 8192, &n)) == CW_OK && n > 0) {
    total += n;
  }
  cw_reader_free(reader);
  return total;
}

static void a_stream_that_goes_on_past_twelve_hours_is_ended(void **state)
{
  (void)state;
  static const CwBackEnd endless = {endless_open, endless_read, endless_close};
  CwStatus status = CW_OK;
  const size_t n = read_from(&endless, &status);
  assert_int_equal(status, CW_ERR_TOO_LONG);
  assert_near((double)n / 8000, CW_AUDIO_LIMIT_S, 2);
}

static void a_reading_error_is_handed_on(void **state)
{
  (void)state;
  static const CwBackEnd failing = {endless_open, failing_read, endless_close};
  CwStatus status = CW_OK;
  read_from(&failing, &status);
  assert_int_equal(status, CW_ERR_READ);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_recording_streams_with_progress),
      cmocka_unit_test(cancelling_and_the_sink_end_it),
      cmocka_unit_test(a_stream_that_goes_on_past_twelve_hours_is_ended),
      cmocka_unit_test(a_reading_error_is_handed_on),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
