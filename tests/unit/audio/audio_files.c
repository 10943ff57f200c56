// SPDX-License-Identifier: GPL-3.0-or-later
#include "audio_files.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <sndfile.h>

#include "unit/cw_test.h"

void write_sound(const char *path, int format, unsigned rate_hz, unsigned channels, const float *samples, size_t n)
{
  SF_INFO info = {.samplerate = (int)rate_hz, .channels = (int)channels, .format = format};
  SNDFILE *file = sf_open(path, SFM_WRITE, &info);
  assert_non_null(file);
  sf_command(file, SFC_SET_CLIPPING, NULL, SF_TRUE);
  assert_int_equal(sf_writef_float(file, samples, (sf_count_t)n), (sf_count_t)n);
  assert_int_equal(sf_close(file), 0);
}

void write_bytes(const char *path, const void *bytes, size_t n)
{
  FILE *file = fopen(path, "wb");
  assert_non_null(file);
  assert_int_equal(fwrite(bytes, 1, n, file), n);
  assert_int_equal(fclose(file), 0);
}

unsigned char *read_bytes(const char *path, size_t *n)
{
  FILE *file = fopen(path, "rb");
  assert_non_null(file);
  assert_int_equal(fseek(file, 0, SEEK_END), 0);
  *n = (size_t)ftell(file);
  rewind(file);
  unsigned char *bytes = malloc(*n + 1);
  assert_non_null(bytes);
  assert_int_equal(fread(bytes, 1, *n, file), *n);
  fclose(file);
  return bytes;
}

static void keep_notice(void *user, const char *text)
{
  Recording *recording = user;
  recording->notices++;
  snprintf(recording->notice, sizeof recording->notice, "%s", text);
}

Recording read_recording(const char *path, unsigned rate_hz, size_t block)
{
  Recording recording = {0};
  const CwReport report = {.notice = keep_notice, .user = &recording};
  CwReader *reader = NULL;
  recording.status = cw_reader_open(path, rate_hz, &report, &reader);
  if (recording.status != CW_OK) {
    assert_null(reader);
    return recording;
  }
  size_t room = 0;
  size_t n = block;
  while (n == block) {
    if (recording.n + block > room) {
      room = 2 * (recording.n + block);
      recording.samples = realloc(recording.samples, room * sizeof(float));
      assert_non_null(recording.samples);
    }
    recording.status = cw_reader_read(reader, recording.samples + recording.n, block, &n);
    recording.n += n;
  }
  // past the end there is nothing, however often one asks
  float more = 0;
  if (recording.status == CW_OK) {
    assert_int_equal(cw_reader_read(reader, &more, 1, &n), CW_OK);
    assert_int_equal(n, 0);
  }
  recording.bad_samples = cw_reader_bad_samples(reader);
  recording.truncated = cw_reader_truncated(reader);
  cw_reader_free(reader);
  return recording;
}

void add_pulse(float *mono, size_t n, unsigned rate_hz, double time_s)
{
  for (size_t i = 0; i < n; i++) {
    const double t = ((double)i / rate_hz - time_s) / 0.0005;
    mono[i] += (float)(0.75 * exp(-t * t));
  }
}

double pulse_time(const float *mono, size_t n, unsigned rate_hz, double time_s, double within_s)
{
  double moment = 0;
  double energy = 0;
  for (size_t i = 0; i < n; i++) {
    const double t = (double)i / rate_hz - time_s;
    if (fabs(t) <= within_s) {
      const double e = (double)mono[i] * (double)mono[i];
      moment += e * t;
      energy += e;
    }
  }
  return time_s + moment / energy;
}

float next_random(uint32_t *seed)
{
  *seed = *seed * 1664525U + 1013904223U;
  return (float)(*seed >> 8) / 8388608.0F - 1.0F;
}
