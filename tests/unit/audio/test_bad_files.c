// SPDX-License-Identifier: GPL-3.0-or-later
/// What is no recording, or only part of one.
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <sndfile.h>

#include "audio_files.h"

/// Asked by LeakSanitizer: libsndfile 1.2.0 itself leaks where a Vorbis header is damaged.
const char *__lsan_default_suppressions(void);

const char *__lsan_default_suppressions(void)
{
  return "leak:vorbis_info_init";
}

static CwStatus open_status(const char *path)
{
  Recording recording = read_recording(path, CW_ANALYSIS_RATE_HZ, 4096);
  free(recording.samples);
  return recording.status;
}

static CwStatus status_of_bytes(const void *bytes, size_t n)
{
  write_bytes(MADE_FILE, bytes, n);
  const CwStatus status = open_status(MADE_FILE);
  unlink(MADE_FILE);
  return status;
}

/// A sound of `n` mono frames in `format`, as bytes.
static unsigned char *sound_bytes(int format, size_t n, size_t *size)
{
  float *samples = calloc(n + 1, sizeof *samples);
  assert_non_null(samples);
  uint32_t seed = 11;
  for (size_t i = 0; i < n; i++) {
    samples[i] = 0.5F * next_random(&seed);
  }
  write_sound(MADE_FILE, format, 44100, 1, samples, n);
  free(samples);
  unsigned char *bytes = read_bytes(MADE_FILE, size);
  unlink(MADE_FILE);
  return bytes;
}

static void places_that_are_no_files_are_told_apart(void **state)
{
  (void)state;
  assert_int_equal(open_status("no-such-file.wav"), CW_ERR_NOT_FOUND);
  assert_int_equal(open_status("no-such-folder/x.wav"), CW_ERR_NOT_FOUND);
  assert_int_equal(open_status("."), CW_ERR_IS_DIRECTORY);
  assert_int_equal(open_status(""), CW_ERR_NOT_FOUND);
}

static void a_pipe_or_a_device_is_refused_without_waiting(void **state)
{
  (void)state;
  unlink("made-pipe.tmp");
  assert_int_equal(mkfifo("made-pipe.tmp", 0600), 0);
  static const char *const path[] = {"made-pipe.tmp", "/dev/zero", "/dev/null"};
  for (size_t i = 0; i < 3; i++) {
    Recording recording = read_recording(path[i], CW_ANALYSIS_RATE_HZ, 4096);
    assert_int_equal(recording.status, CW_ERR_NOT_AUDIO);
    assert_int_equal(recording.notices, 1);
    assert_string_equal(recording.notice, "a pipe or a device cannot be read as a recording, save it to a file first");
  }
  unlink("made-pipe.tmp");
}

static void a_file_that_may_not_be_read_is_told(void **state)
{
  (void)state;
  write_bytes(MADE_FILE, "x", 1);
  assert_int_equal(chmod(MADE_FILE, 0), 0);
  const uid_t me = geteuid();
  if (me == 0) { // root may read everything
    assert_int_equal(seteuid(65534), 0);
  }
  const CwStatus status = open_status(MADE_FILE);
  assert_int_equal(seteuid(me), 0);
  assert_int_equal(status, CW_ERR_NO_ACCESS);
  unlink(MADE_FILE);
}

static void what_holds_nothing_is_empty(void **state)
{
  (void)state;
  assert_int_equal(status_of_bytes("", 0), CW_ERR_EMPTY);
  static const int format[] = {SF_FORMAT_WAV | SF_FORMAT_PCM_16, SF_FORMAT_AIFF | SF_FORMAT_PCM_16};
  for (size_t i = 0; i < 2; i++) {
    size_t size = 0;
    unsigned char *bytes = sound_bytes(format[i], 0, &size);
    assert_int_equal(status_of_bytes(bytes, size), CW_ERR_EMPTY);
    free(bytes);
  }
}

static void what_is_no_recording_is_told(void **state)
{
  (void)state;
  static const char text[] = "piece: The Glass Orchard\n8 walk to the well, turn on 5\n";
  assert_int_equal(status_of_bytes(text, sizeof text - 1), CW_ERR_NOT_AUDIO);
  static const char png[] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\1\0\0\0\1\x08\0\0\0\0:~\x9bU";
  assert_int_equal(status_of_bytes(png, sizeof png - 1), CW_ERR_NOT_AUDIO);
  assert_int_equal(status_of_bytes("a", 1), CW_ERR_NOT_AUDIO);
  // a list of files, which a media library might follow
  static const char list[] = "#EXTM3U\n#EXTINF:1,\n/etc/hostname\n";
  assert_int_equal(status_of_bytes(list, sizeof list - 1), CW_ERR_NOT_AUDIO);
}

static void random_bytes_are_no_recording(void **state)
{
  (void)state;
  unsigned char bytes[20000];
  for (uint32_t seed = 1; seed <= 40; seed++) {
    uint32_t next = seed;
    for (size_t i = 0; i < sizeof bytes; i++) {
      bytes[i] = (unsigned char)(next_random(&next) * 127.0F + 128.0F);
    }
    assert_int_equal(status_of_bytes(bytes, sizeof bytes), CW_ERR_NOT_AUDIO);
  }
}

static void a_recording_cut_off_is_read_as_far_as_it_goes_and_says_so(void **state)
{
  (void)state;
  static const struct {
    int format;
    const char *notice;
  } row[] = {
      {SF_FORMAT_WAV | SF_FORMAT_PCM_16, "the recording ends early: 0:01.0 of 0:02.0 is there"},
      {SF_FORMAT_AIFF | SF_FORMAT_PCM_16, "the recording ends early: 0:01.0 of 0:02.0 is there"},
      {SF_FORMAT_FLAC | SF_FORMAT_PCM_16, "the recording ends early: 0:0"},
      {SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, "the recording ends early: 0:0"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const SF_INFO info = {.samplerate = 44100, .channels = 1, .format = row[i].format};
    if (!sf_format_check(&info)) {
      print_message("this libsndfile does not write format 0x%x\n", (unsigned)row[i].format);
      continue;
    }
    size_t size = 0;
    unsigned char *bytes = sound_bytes(row[i].format, 88200, &size);
    write_bytes(MADE_FILE, bytes, size / 2);
    Recording recording = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, 4096);
    assert_int_equal(recording.status, CW_OK);
    assert_true(recording.truncated);
    assert_int_equal(recording.notices, 1);
    assert_memory_equal(recording.notice, row[i].notice, strlen(row[i].notice));
    assert_near((double)recording.n / CW_ANALYSIS_RATE_HZ, 1.0, 0.15); // to the last whole frame of the codec
    free(recording.samples);
    free(bytes);
  }
  unlink(MADE_FILE);
}

static void a_header_with_nothing_behind_it_is_cut_off(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *bytes = sound_bytes(SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1000, &size);
  assert_int_equal(status_of_bytes(bytes, 44), CW_ERR_TRUNCATED);
  assert_int_equal(status_of_bytes(bytes, 20), CW_ERR_TRUNCATED);
  free(bytes);
  bytes = sound_bytes(SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 10000, &size);
  assert_int_equal(status_of_bytes(bytes, 60), CW_ERR_TRUNCATED);
  free(bytes);
}

static void a_wav_file_that_does_not_know_its_length_is_read_to_its_end(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *bytes = sound_bytes(SF_FORMAT_WAV | SF_FORMAT_PCM_16, 4410, &size);
  memset(bytes + 4, 0xFF, 4); // as a program writes it to a pipe
  memset(bytes + 40, 0xFF, 4);
  write_bytes(MADE_FILE, bytes, size);
  free(bytes);
  Recording recording = read_recording(MADE_FILE, 44100, 4096);
  assert_int_equal(recording.status, CW_OK);
  assert_int_equal(recording.n, 4410);
  assert_false(recording.truncated);
  assert_int_equal(recording.notices, 0);
  free(recording.samples);
  unlink(MADE_FILE);
}

static void a_wav_file_that_was_never_closed_is_read_to_its_end(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *bytes = sound_bytes(SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, &size);
  static const unsigned char whole[] = {0, 8, 36}; // what is found in such headers for the size of the whole
  for (size_t i = 0; i < sizeof whole; i++) {
    memset(bytes + 4, 0, 4);
    bytes[4] = whole[i];
    memset(bytes + 40, 0, 4);
    write_bytes(MADE_FILE, bytes, size);
    Recording recording = read_recording(MADE_FILE, 44100, 4096);
    if (whole[i] == 8) { // libsndfile knows this one itself
      assert_int_equal(recording.status, CW_OK);
    }
#ifdef CW_HAVE_FFMPEG
    assert_int_equal(recording.status, CW_OK);
    assert_int_equal(recording.n, 44100);
#endif
    free(recording.samples);
  }
  free(bytes);
  unlink(MADE_FILE);
}

static void samples_that_are_not_finite_are_silence_and_counted(void **state)
{
  (void)state;
  enum { N = 5000 };
  float samples[2 * N];
  for (size_t i = 0; i < 2 * (size_t)N; i++) {
    samples[i] = 0.25F;
  }
  samples[10] = NAN;
  samples[11] = 0.5F;
  samples[200] = INFINITY;
  samples[201] = -INFINITY;
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 22050, 2, samples, N);
  Recording recording = read_recording(MADE_FILE, 22050, 4096);
  assert_int_equal(recording.status, CW_OK);
  assert_int_equal(recording.n, N);
  assert_int_equal(recording.bad_samples, 3);
  assert_int_equal(recording.notices, 1);
  assert_string_equal(recording.notice, "3 samples were not finite and are taken as silence");
  assert_near((double)recording.samples[5], 0.25, 1e-7);
  assert_near((double)recording.samples[100], 0, 0);
  assert_near((double)recording.samples[101], 0.25, 0);
  free(recording.samples);
  unlink(MADE_FILE);
}

static void over_twelve_hours_by_the_header_is_too_long(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *bytes = sound_bytes(SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 10000, &size);
  // FLAC, RFC 9639, section 8.2: 36 bits of total samples from byte 21.5 of the file; 2^31 at 44100 Hz is 13.5 hours
  bytes[22] = 0x80;
  assert_int_equal(status_of_bytes(bytes, size), CW_ERR_TOO_LONG);
  free(bytes);
}

/// Whatever damage a file has, reading ends with an answer.
static void damage_does_no_harm(int format)
{
  const SF_INFO info = {.samplerate = 44100, .channels = 1, .format = format};
  if (!sf_format_check(&info)) {
    print_message("this libsndfile does not write format 0x%x\n", (unsigned)format);
    return;
  }
  size_t size = 0;
  unsigned char *bytes = sound_bytes(format, 12000, &size);
  unsigned char *damaged = malloc(size);
  assert_non_null(damaged);
  uint32_t seed = 99;
  for (int round = 0; round < 60; round++) {
    memcpy(damaged, bytes, size);
    for (int hit = 0; hit < 1 + round / 2; hit++) {
      const double where = (double)next_random(&seed) * 0.5 + 0.5;
      const size_t range = round % 2 ? size : size < 200 ? size : 200; // every other time only the header
      damaged[(size_t)(where * (double)(range - 1))] = (unsigned char)(next_random(&seed) * 127.0F + 128.0F);
    }
    write_bytes(MADE_FILE, damaged, round % 3 ? size : size - (size_t)round * size / 60);
    Recording recording = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, 4096);
    assert_true(strcmp(cw_strerror(recording.status), "unknown error") != 0);
    assert_true(recording.status != CW_ERR_BAD_ARG);
    for (size_t i = 0; i < recording.n; i++) {
      assert_true(isfinite(recording.samples[i]));
    }
    free(recording.samples);
  }
  unlink(MADE_FILE);
  free(damaged);
  free(bytes);
}

static void damaged_files_never_crash(void **state)
{
  (void)state;
  static const int format[] = {
      SF_FORMAT_WAV | SF_FORMAT_PCM_16,    SF_FORMAT_AIFF | SF_FORMAT_PCM_16,         SF_FORMAT_FLAC | SF_FORMAT_PCM_16,
      SF_FORMAT_WAV | SF_FORMAT_FLOAT,     SF_FORMAT_OGG | SF_FORMAT_VORBIS,          SF_FORMAT_CAF | SF_FORMAT_PCM_16,
      SF_FORMAT_WAV | SF_FORMAT_IMA_ADPCM, SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III,
  };
  for (size_t i = 0; i < sizeof format / sizeof format[0]; i++) {
    damage_does_no_harm(format[i]);
  }
}

static void rates_outside_the_range_are_refused(void **state)
{
  (void)state;
  CwReader *reader = NULL;
  assert_int_equal(cw_reader_open("x", 7999, NULL, &reader), CW_ERR_BAD_ARG);
  assert_int_equal(cw_reader_open("x", 192001, NULL, &reader), CW_ERR_BAD_ARG);
  assert_null(reader);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(places_that_are_no_files_are_told_apart),
      cmocka_unit_test(a_pipe_or_a_device_is_refused_without_waiting),
      cmocka_unit_test(a_file_that_may_not_be_read_is_told),
      cmocka_unit_test(what_holds_nothing_is_empty),
      cmocka_unit_test(what_is_no_recording_is_told),
      cmocka_unit_test(random_bytes_are_no_recording),
      cmocka_unit_test(a_recording_cut_off_is_read_as_far_as_it_goes_and_says_so),
      cmocka_unit_test(a_header_with_nothing_behind_it_is_cut_off),
      cmocka_unit_test(a_wav_file_that_does_not_know_its_length_is_read_to_its_end),
      cmocka_unit_test(a_wav_file_that_was_never_closed_is_read_to_its_end),
      cmocka_unit_test(samples_that_are_not_finite_are_silence_and_counted),
      cmocka_unit_test(over_twelve_hours_by_the_header_is_too_long),
      cmocka_unit_test(damaged_files_never_crash),
      cmocka_unit_test(rates_outside_the_range_are_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
