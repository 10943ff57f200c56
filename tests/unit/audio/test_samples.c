// SPDX-License-Identifier: GPL-3.0-or-later
/// The samples themselves, against libsndfile's own reading.
#include "unit/cw_test.h"

#include <stdlib.h>
#include <unistd.h>

#include <sndfile.h>

#include "audio_files.h"
#include "base/memory.h"

enum { FRAMES = 30000 };

static float *noise(size_t n, uint32_t seed)
{
  float *samples = malloc(n * sizeof *samples);
  assert_non_null(samples);
  for (size_t i = 0; i < n; i++) {
    samples[i] = 0.9F * next_random(&seed);
  }
  return samples;
}

/// The average of the channels as libsndfile's sf_readf_double() gives them.
static float *reference(const char *path, sf_count_t *n)
{
  SF_INFO info = {0};
  SNDFILE *file = sf_open(path, SFM_READ, &info);
  assert_non_null(file);
  double *all = malloc((size_t)(info.frames * info.channels) * sizeof *all);
  float *mono = malloc((size_t)info.frames * sizeof *mono);
  assert_non_null(all);
  assert_non_null(mono);
  *n = sf_readf_double(file, all, info.frames);
  for (sf_count_t i = 0; i < *n; i++) {
    double sum = 0;
    for (int c = 0; c < info.channels; c++) {
      sum += all[i * info.channels + c];
    }
    mono[i] = (float)(sum / info.channels);
  }
  free(all);
  sf_close(file);
  return mono;
}

static void check_against_libsndfile(int format, unsigned rate_hz, unsigned channels)
{
  float *samples = noise((size_t)FRAMES * channels, 7);
  write_sound(MADE_FILE, format, rate_hz, channels, samples, FRAMES);
  free(samples);
  sf_count_t n = 0;
  float *wanted = reference(MADE_FILE, &n);
  Recording recording = read_recording(MADE_FILE, rate_hz, 1000);
  assert_int_equal(recording.status, CW_OK);
  assert_int_equal(recording.n, n);
  for (size_t i = 0; i < recording.n; i++) {
    assert_near((double)recording.samples[i], (double)wanted[i], 1e-6);
  }
  free(recording.samples);
  free(wanted);
  unlink(MADE_FILE);
}

static void every_kind_of_sample_and_any_channels_read_as_libsndfile_reads_them(void **state)
{
  (void)state;
  static const int kind[] = {SF_FORMAT_PCM_U8, SF_FORMAT_PCM_16, SF_FORMAT_PCM_24, SF_FORMAT_PCM_32,
                             SF_FORMAT_FLOAT,  SF_FORMAT_DOUBLE, SF_FORMAT_ULAW,   SF_FORMAT_ALAW};
  for (size_t i = 0; i < sizeof kind / sizeof kind[0]; i++) {
    check_against_libsndfile(SF_FORMAT_WAV | kind[i], 22050, 2);
  }
  static const unsigned channels[] = {1, 3, 6, 32};
  for (size_t i = 0; i < sizeof channels / sizeof channels[0]; i++) {
    check_against_libsndfile(SF_FORMAT_WAV | SF_FORMAT_PCM_16, 22050, channels[i]);
  }
  check_against_libsndfile(SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 44100, 2);
  check_against_libsndfile(SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 48000, 2);
  check_against_libsndfile(SF_FORMAT_OGG | SF_FORMAT_VORBIS, 44100, 2);
}

static void block_size_does_not_matter(void **state)
{
  (void)state;
  float *samples = noise((size_t)2 * FRAMES, 3);
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 2, samples, FRAMES);
  free(samples);
  Recording large = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, 4096);
  static const size_t block[] = {1, 64, 1000000};
  for (size_t k = 0; k < sizeof block / sizeof block[0]; k++) {
    Recording other = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, block[k]);
    assert_int_equal(other.n, large.n);
    for (size_t i = 0; i < large.n; i++) {
      assert_near((double)other.samples[i], (double)large.samples[i], 1e-6);
    }
    free(other.samples);
  }
  free(large.samples);
  unlink(MADE_FILE);
}

static void silence_before_moves_everything_by_as_much(void **state)
{
  (void)state;
  float *samples = noise((size_t)2 * 44100, 5);
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, samples + 44100, 44100);
  Recording plain = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, 4096);
  for (size_t i = 0; i < 44100; i++) {
    samples[i] = 0;
  }
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, samples, (size_t)2 * 44100);
  Recording later = read_recording(MADE_FILE, CW_ANALYSIS_RATE_HZ, 4096);
  assert_int_equal(later.n, plain.n + 22050);
  for (size_t i = 100; i + 100 < plain.n; i++) { // the resampler looks some samples beyond each end
    assert_near((double)later.samples[i + 22050], (double)plain.samples[i], 1e-5);
  }
  free(plain.samples);
  free(later.samples);
  free(samples);
  unlink(MADE_FILE);
}

static void the_file_is_described(void **state)
{
  (void)state;
  float *samples = noise((size_t)2 * FRAMES, 1);
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 2, samples, FRAMES);
  free(samples);
  CwReader *reader = NULL;
  assert_int_equal(cw_reader_open(MADE_FILE, CW_ANALYSIS_RATE_HZ, NULL, &reader), CW_OK);
  const CwAudioInfo *info = cw_reader_info(reader);
  assert_near(info->rate_hz, 48000, 0);
  assert_int_equal(info->channels, 2);
  assert_near(info->duration_s, 0.625, 1e-9);
  assert_string_equal(info->format, "WAV, Signed 16 bit PCM");
  cw_reader_free(reader);
  cw_reader_free(NULL);
  unlink(MADE_FILE);
}

static void a_full_memory_is_told_wherever_it_strikes(void **state)
{
  (void)state;
  float *samples = noise(FRAMES, 1);
  write_sound(MADE_FILE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, samples, FRAMES);
  free(samples);
  CwStatus status = CW_ERR_NO_MEM;
  long allowed = 0;
  for (; status == CW_ERR_NO_MEM && allowed < 50; allowed++) {
    CwReader *reader = NULL;
    cw_fail_after(allowed);
    status = cw_reader_open(MADE_FILE, CW_ANALYSIS_RATE_HZ, NULL, &reader);
    assert_true(status == CW_ERR_NO_MEM || status == CW_OK);
    assert_true((reader != NULL) == (status == CW_OK));
    cw_reader_free(reader);
  }
  cw_fail_after(-1);
  assert_int_equal(status, CW_OK);
  assert_true(allowed > 3);
  unlink(MADE_FILE);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_kind_of_sample_and_any_channels_read_as_libsndfile_reads_them),
      cmocka_unit_test(block_size_does_not_matter),
      cmocka_unit_test(silence_before_moves_everything_by_as_much),
      cmocka_unit_test(the_file_is_described),
      cmocka_unit_test(a_full_memory_is_told_wherever_it_strikes),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
