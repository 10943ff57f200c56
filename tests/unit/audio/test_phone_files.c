// SPDX-License-Identifier: GPL-3.0-or-later
/// Files that FFmpeg reads, made by tests/vectors/audio/make.sh; and, in a build without it, how they are refused.
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "audio_files.h"
#include "base/memory.h"

#define MEDIA(name) CW_VECTORS "/audio/" name

static const struct {
  const char *path;
  double pulse_s;
  double tolerance_s;
} pulse_file[] = {
    {MEDIA("pulse.m4a"), 0.1, 0.0002},
    {MEDIA("pulse.3gp"), 0.1, 0.0002},
    {MEDIA("pulse.webm"), 0.1, 0.0002},
    // the sound of a film that begins a second after the picture; mov tells that in whole milliseconds
    {MEDIA("late.mov"), 1.1, 0.001},
    // a bare AAC stream cannot state the encoder's run-in of 1024 frames, so all of it is late by that
    {MEDIA("pulse.aac"), 0.1 + 1024.0 / 48000.0, 0.0002},
};
enum { PULSE_FILES = sizeof pulse_file / sizeof pulse_file[0] };

#ifdef CW_HAVE_FFMPEG

static void phone_files_keep_time(void **state)
{
  (void)state;
  for (size_t i = 0; i < PULSE_FILES; i++) {
    Recording recording = read_recording(pulse_file[i].path, 44100, 4096);
    assert_int_equal(recording.status, CW_OK);
    assert_int_equal(recording.notices, 0);
    assert_near(pulse_time(recording.samples, recording.n, 44100, pulse_file[i].pulse_s, 0.02), pulse_file[i].pulse_s,
                pulse_file[i].tolerance_s);
    free(recording.samples);
  }
}

/// pulse.m4a.wav is what FFmpeg's own program decodes.
static void an_m4a_reads_as_ffmpeg_decodes_it(void **state)
{
  (void)state;
  Recording ours = read_recording(MEDIA("pulse.m4a"), 48000, 4096);
  Recording theirs = read_recording(MEDIA("pulse.m4a.wav"), 48000, 4096);
  assert_int_equal(ours.status, CW_OK);
  assert_int_equal(theirs.status, CW_OK);
  assert_int_equal(ours.n, theirs.n);
  for (size_t i = 0; i < ours.n; i++) {
    assert_near((double)ours.samples[i], (double)theirs.samples[i], 1.0 / 32768.0); // rounded to 16 bits there
  }
  free(ours.samples);
  free(theirs.samples);
}

static void a_film_without_sound_and_half_a_file_are_told(void **state)
{
  (void)state;
  Recording recording = read_recording(MEDIA("picture-only.mp4"), CW_ANALYSIS_RATE_HZ, 4096);
  assert_int_equal(recording.status, CW_ERR_NO_AUDIO_TRACK);
  recording = read_recording(MEDIA("no-index.m4a"), CW_ANALYSIS_RATE_HZ, 4096);
  assert_int_equal(recording.status, CW_ERR_TRUNCATED);
  recording = read_recording(MEDIA("cut.m4a"), CW_ANALYSIS_RATE_HZ, 4096);
  assert_int_equal(recording.status, CW_OK);
  assert_true(recording.truncated);
  assert_int_equal(recording.notices, 1);
  assert_string_equal(recording.notice, "the recording ends early: 0:00.2 of 0:00.3 is there");
  free(recording.samples);
}

static void a_full_memory_is_told_wherever_it_strikes(void **state)
{
  (void)state;
  CwStatus status = CW_ERR_NO_MEM;
  for (long allowed = 0; status == CW_ERR_NO_MEM && allowed < 50; allowed++) {
    CwReader *reader = NULL;
    cw_fail_after(allowed);
    status = cw_reader_open(MEDIA("pulse.m4a"), CW_ANALYSIS_RATE_HZ, NULL, &reader);
    assert_true(status == CW_ERR_NO_MEM || status == CW_OK);
    cw_reader_free(reader);
  }
  cw_fail_after(-1);
  assert_int_equal(status, CW_OK);
}

static void damaged_phone_files_never_crash(void **state)
{
  (void)state;
  uint32_t seed = 5;
  for (size_t f = 0; f < PULSE_FILES; f++) {
    size_t size = 0;
    unsigned char *bytes = read_bytes(pulse_file[f].path, &size);
    for (int round = 0; round < 40; round++) {
      for (int hit = 0; hit < 4; hit++) { // damage adds up from round to round
        const double where = (double)next_random(&seed) * 0.5 + 0.5;
        bytes[(size_t)(where * (double)(size - 1))] = (unsigned char)(next_random(&seed) * 127.0F + 128.0F);
      }
      write_bytes(MADE_FILE, bytes, size);
      Recording recording = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, 4096);
      assert_true(recording.status != CW_ERR_BAD_ARG);
      free(recording.samples);
    }
    free(bytes);
  }
  unlink(MADE_FILE);
}

static void a_name_that_looks_like_an_address_is_only_a_name(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *bytes = read_bytes(MEDIA("pulse.m4a"), &size);
  static const char *const name[] = {"concat:made|x.m4a", "http:made.m4a", "-made.m4a", "made %d.m4a"};
  for (size_t i = 0; i < sizeof name / sizeof name[0]; i++) {
    write_bytes(name[i], bytes, size);
    Recording recording = read_recording(name[i], CW_ANALYSIS_RATE_HZ, 4096);
    assert_int_equal(recording.status, CW_OK);
    free(recording.samples);
    unlink(name[i]);
  }
  free(bytes);
}

#else

static void without_ffmpeg_phone_files_are_refused_as_unsupported(void **state)
{
  (void)state;
  for (size_t i = 0; i < PULSE_FILES; i++) {
    Recording recording = read_recording(pulse_file[i].path, CW_ANALYSIS_RATE_HZ, 4096);
    assert_int_equal(recording.status, CW_ERR_UNSUPPORTED);
  }
}

#endif

int main(void)
{
  const struct CMUnitTest tests[] = {
#ifdef CW_HAVE_FFMPEG
      cmocka_unit_test(phone_files_keep_time),
      cmocka_unit_test(an_m4a_reads_as_ffmpeg_decodes_it),
      cmocka_unit_test(a_film_without_sound_and_half_a_file_are_told),
      cmocka_unit_test(a_full_memory_is_told_wherever_it_strikes),
      cmocka_unit_test(damaged_phone_files_never_crash),
      cmocka_unit_test(a_name_that_looks_like_an_address_is_only_a_name),
#else
      cmocka_unit_test(without_ffmpeg_phone_files_are_refused_as_unsupported),
#endif
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
