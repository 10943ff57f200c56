// SPDX-License-Identifier: GPL-3.0-or-later
// Drift measured through sound, of music made up for the tests; tests/accuracy measures that of the demo recordings.
#include "unit/cw_test.h"

#include <stdlib.h>

#include "countwright/align.h"
#include "countwright/drift.h"
#include "unit/align/music.h"

/// Phrases of eight beats, where they fall in a playing.
static CwCountLine true_line(const TestPiece *piece, const TestPlaying *playing, double duration_s)
{
  CwCountLine line;
  cw_count_line_init(&line, duration_s);
  for (double beat = 0; beat + 8 <= piece->beats; beat += 8) {
    double count_s[8];
    for (int c = 0; c < 8; c++) {
      count_s[c] = test_beat_time(playing, beat + c);
    }
    assert_int_equal(cw_count_line_add(&line, count_s, 8, test_beat_time(playing, beat + 8), 1.0), CW_OK);
  }
  return line;
}

/// Greatest difference, in percent, between the drift found through sound and the true one.
static double greatest_error(const TestPlaying *a_playing, const TestPlaying *b_playing)
{
  TestPiece piece = test_piece_make(21, 24);
  CwAlignFeatures *a = test_measure(&piece, a_playing, 50000);
  CwAlignFeatures *b = test_measure(&piece, b_playing, 50000);
  CwTimeMap map;
  assert_int_equal(cw_align(a, b, NULL, &map), CW_OK);
  CwCountLine a_line = true_line(&piece, a_playing, a->duration_s);
  CwCountLine b_line = true_line(&piece, b_playing, b->duration_s);
  CwDrift found;
  CwDrift wanted;
  assert_int_equal(cw_drift_by_map(&a_line, &map, &found), CW_OK);
  assert_int_equal(cw_drift_by_lines(&a_line, &b_line, &wanted), CW_OK);
  double greatest = 0;
  for (size_t i = 0; i < found.n; i++) {
    assert_true(found.row[i].present);
    greatest = fmax(greatest, fabs(found.row[i].percent - wanted.row[i].percent));
  }
  cw_drift_free(&found);
  cw_drift_free(&wanted);
  cw_count_line_free(&a_line);
  cw_count_line_free(&b_line);
  cw_time_map_free(&map);
  cw_align_features_free(a);
  cw_align_features_free(b);
  test_piece_free(&piece);
  return greatest;
}

static void five_percent_are_five_percent(void **state)
{
  (void)state;
  const TestPlaying a = {.bpm = 100, .lead_s = 0.5};
  const TestPlaying b = {.bpm = 105, .lead_s = 0.5};
  assert_near(greatest_error(&a, &b), 0, 0.5);
  assert_near(greatest_error(&b, &a), 0, 0.5);
}

static void drift_of_swaying_tempi_is_within_half_a_percent(void **state)
{
  (void)state;
  const TestPlaying a = {.bpm = 96, .sway = 0.1, .lead_s = 0.4, .seed = 6};
  const TestPlaying b = {.bpm = 104, .sway = 0.15, .lead_s = 2.1, .seed = 9};
  assert_near(greatest_error(&a, &b), 0, 0.5);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(five_percent_are_five_percent),
      cmocka_unit_test(drift_of_swaying_tempi_is_within_half_a_percent),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
