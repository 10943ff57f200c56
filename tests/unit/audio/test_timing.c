// SPDX-License-Identifier: GPL-3.0-or-later
/// What is at t seconds in a file is at t seconds in what is read.
#include "unit/cw_test.h"

#include <stdlib.h>
#include <unistd.h>

#include <sndfile.h>

#include "audio_files.h"

// early, between two samples of every rate, and late enough for a drift to show
static const double pulse_s[] = {0.1, 0.7000371, 19.9};
enum { PULSES = 3, SECONDS = 20 };

/// Write pulses at `file_hz` and check where they are at `read_hz`.
static void check_times(int format, unsigned file_hz, unsigned read_hz, double tolerance_s)
{
  const size_t n = (size_t)SECONDS * file_hz;
  float *mono = calloc(n, sizeof *mono);
  assert_non_null(mono);
  for (size_t p = 0; p < PULSES; p++) {
    add_pulse(mono, n, file_hz, pulse_s[p]);
  }
  write_sound(MADE_FILE, format, file_hz, 1, mono, n);
  free(mono);
  Recording recording = read_recording(MADE_FILE, read_hz, 4096);
  unlink(MADE_FILE);
  assert_int_equal(recording.status, CW_OK);
  assert_near((double)recording.n / read_hz, SECONDS, 1.5 / read_hz);
  assert_int_equal(recording.notices, 0);
  for (size_t p = 0; p < PULSES; p++) {
    const double heard_s = pulse_time(recording.samples, recording.n, read_hz, pulse_s[p], 0.02);
    if (!(fabs(heard_s - pulse_s[p]) <= tolerance_s)) {
      print_error("%u to %u Hz: the pulse at %.7f s is at %.7f s\n", file_hz, read_hz, pulse_s[p], heard_s);
      fail();
    }
  }
  free(recording.samples);
}

static void a_pulse_stays_within_a_tenth_of_a_millisecond_at_all_rates(void **state)
{
  (void)state;
  static const unsigned file_hz[] = {8000, 11025, 22050, 32000, 44056, 44100, 48000, 96000, 192000};
  static const unsigned read_hz[] = {8000, CW_ANALYSIS_RATE_HZ, 44100, 48000};
  for (size_t i = 0; i < sizeof file_hz / sizeof file_hz[0]; i++) {
    for (size_t k = 0; k < sizeof read_hz / sizeof read_hz[0]; k++) {
      check_times(SF_FORMAT_WAV | SF_FORMAT_PCM_24, file_hz[i], read_hz[k], 0.0001);
    }
  }
}

/// Codecs with a run-in that the decoder must drop: 1105 samples (25 ms) for MP3, 312 (6.5 ms) for Opus. They smear a
/// pulse over some milliseconds, so its middle may move by a little more than a tenth of one.
static void check_codec(int format, unsigned rate_hz)
{
  const SF_INFO info = {.samplerate = (int)rate_hz, .channels = 1, .format = format};
  if (!sf_format_check(&info)) {
    print_message("this libsndfile does not write format 0x%x\n", (unsigned)format);
    skip();
  }
  check_times(format, rate_hz, CW_ANALYSIS_RATE_HZ, 0.0003);
}

static void flac_keeps_time(void **state)
{
  (void)state;
  check_codec(SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 44100);
}

static void vorbis_keeps_time(void **state)
{
  (void)state;
  check_codec(SF_FORMAT_OGG | SF_FORMAT_VORBIS, 44100);
}

static void opus_keeps_time(void **state)
{
  (void)state;
  check_codec(SF_FORMAT_OGG | SF_FORMAT_OPUS, 48000);
}

static void mp3_keeps_time(void **state)
{
  (void)state;
  check_codec(SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, 44100);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_pulse_stays_within_a_tenth_of_a_millisecond_at_all_rates),
      cmocka_unit_test(flac_keeps_time),
      cmocka_unit_test(vorbis_keeps_time),
      cmocka_unit_test(opus_keeps_time),
      cmocka_unit_test(mp3_keeps_time),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
