// SPDX-License-Identifier: GPL-3.0-or-later
/// Quality of the resampler as a table of thresholds.
#include "unit/cw_test.h"

#include <stdlib.h>

#include "audio/resample.h"

static const double pi = 3.14159265358979323846;

/// Resample a second of a sine in blocks of 1000. @return Samples made.
static size_t resample_sine(double tone_hz, unsigned from_hz, unsigned to_hz, float *out, size_t room)
{
  CwResampler *resampler = NULL;
  assert_int_equal(cw_resampler_new(from_hz, to_hz, &resampler), CW_OK);
  float in[1000];
  size_t made = 0;
  for (size_t at = 0; at < from_hz; at += 1000) {
    const size_t n = from_hz - at < 1000 ? from_hz - at : 1000;
    for (size_t i = 0; i < n; i++) {
      in[i] = (float)sin(2 * pi * tone_hz * (double)(at + i) / from_hz);
    }
    size_t now = 0;
    assert_true(made + cw_resampler_room(resampler, n) <= room);
    assert_int_equal(cw_resampler_run(resampler, in, n, at + n == from_hz, out + made, &now), CW_OK);
    made += now;
  }
  cw_resampler_free(resampler);
  return made;
}

/// Level in dB, against a full sine, of what is left when the wanted sine is taken away; the first and last twentieth
/// of a second, where the filter looks beyond the ends, are left out.
static double error_db(const float *out, size_t n, double tone_hz, double wanted_height, unsigned to_hz)
{
  double sum = 0;
  size_t counted = 0;
  for (size_t i = to_hz / 20; i + to_hz / 20 < n; i++, counted++) {
    const double wanted = wanted_height * sin(2 * pi * tone_hz * (double)i / to_hz);
    const double error = (double)out[i] - wanted;
    sum += error * error;
  }
  return 10 * log10(2 * sum / (double)counted + 1e-30);
}

// At 8 kHz libsamplerate's filter begins to fall (0.15 dB); libswresample's is flat there.
static void tones_pass_or_vanish_as_the_table_says(void **state)
{
  (void)state;
  static const struct {
    unsigned from_hz, to_hz;
    double tone_hz;
    double height;  ///< wanted height of the tone: 1 or, where it would fold back, 0
    double most_db; ///< most that may be wrong
  } row[] = {
      {44100, 22050, 100, 1, -80},    {44100, 22050, 4000, 1, -80},  {44100, 22050, 7000, 1, -70},
      {44100, 22050, 8000, 1, -30},   {44100, 22050, 14100, 0, -75}, {44100, 22050, 20000, 0, -75},
      {48000, 22050, 4000, 1, -80},   {48000, 22050, 7000, 1, -70},  {48000, 22050, 8000, 1, -30},
      {48000, 22050, 14100, 0, -75},  {44056, 22050, 4000, 1, -80},  {192000, 22050, 4000, 1, -80},
      {192000, 22050, 50000, 0, -75}, {8000, 22050, 1000, 1, -80},   {22050, 44100, 4000, 1, -80},
      {11025, 22050, 3000, 1, -80},
  };
  bool good = true;
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const size_t room = (size_t)row[i].to_hz + 20000;
    float *out = calloc(room, sizeof *out);
    assert_non_null(out);
    const size_t n = resample_sine(row[i].tone_hz, row[i].from_hz, row[i].to_hz, out, room);
    assert_true(n + 2 > row[i].to_hz && n < row[i].to_hz + 2);
    const double db = error_db(out, n, row[i].tone_hz, row[i].height, row[i].to_hz);
    print_message("%6u to %6u Hz, %6.0f Hz: %6.1f dB (at most %.0f)\n", row[i].from_hz, row[i].to_hz, row[i].tone_hz,
                  db, row[i].most_db);
    good = good && db <= row[i].most_db;
    free(out);
  }
  assert_true(good);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(tones_pass_or_vanish_as_the_table_says),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
