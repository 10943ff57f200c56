// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>

#include "base/memory.h"
#include "countwright/day.h"
#include "unit/align/music.h"

enum { DANCE_BARS = 12, OTHER_BARS = 10, BLOCK = 10000 };

static const double gap_beats = 40;
static const TestPlaying in_the_studio = {.bpm = 96, .lead_s = 0.5};

/// Pieces one after the other, with gaps between. The pieces are released.
static TestPiece join(TestPiece *piece, size_t n)
{
  TestPiece all = piece[0];
  for (size_t i = 1; i < n; i++) {
    TestPiece longer = test_piece_join(&all, gap_beats, &piece[i]);
    test_piece_free(&all);
    test_piece_free(&piece[i]);
    all = longer;
  }
  return all;
}

/// Other music, the dance, other music, its first half: played at another tempo than the dance's own recording.
static CwAlignFeatures *measure_day(const TestPiece *dance, const TestPlaying *playing)
{
  TestPiece part[] = {test_piece_make(7, OTHER_BARS), test_piece_bars(dance, 0, DANCE_BARS),
                      test_piece_make(8, OTHER_BARS), test_piece_bars(dance, 0, DANCE_BARS / 2)};
  TestPiece day = join(part, sizeof part / sizeof part[0]);
  CwAlignFeatures *features = test_measure(&day, playing, BLOCK);
  test_piece_free(&day);
  return features;
}

static void both_runs_of_a_dance_are_found_with_their_pace(void **state)
{
  (void)state;
  const TestPlaying slower = {.bpm = 90, .lead_s = 3, .seed = 3, .noise = 0.01};
  TestPiece dance = test_piece_make(1, DANCE_BARS);
  CwAlignFeatures *a = test_measure(&dance, &in_the_studio, BLOCK);
  CwAlignFeatures *b = measure_day(&dance, &slower);
  CwDayRuns runs;
  assert_int_equal(cw_day_search(a, b, NULL, &runs), CW_OK);
  assert_int_equal(runs.n, 2);
  const double first = 4 * OTHER_BARS + gap_beats;
  const double second = first + 4 * DANCE_BARS + gap_beats + 4 * OTHER_BARS + gap_beats;
  const double begin[] = {first, second};
  const double end[] = {first + 4 * DANCE_BARS, second + 2 * DANCE_BARS};
  for (size_t i = 0; i < 2; i++) {
    assert_near(runs.run[i].begin_s, test_beat_time(&slower, begin[i]), 3.0);
    assert_near(runs.run[i].end_s, test_beat_time(&slower, end[i]), 4.0);
    assert_near(runs.run[i].pace, 90.0 / 96.0, 0.01);
    assert_true(runs.run[i].sure > 0.8);
  }
  CwTimeMap map;
  assert_int_equal(cw_day_align(a, b, &runs.run[1], NULL, &map), CW_OK);
  for (double beat = 0; beat < 2 * DANCE_BARS; beat++) {
    assert_near(cw_time_map_at(&map, test_beat_time(&in_the_studio, beat)), test_beat_time(&slower, second + beat),
                0.05);
  }
  assert_near(map.b_duration_s, cw_align_features_duration(b), 1e-9);
  cw_time_map_free(&map);
  cw_day_runs_free(&runs);
  cw_align_features_free(a);
  cw_align_features_free(b);
  test_piece_free(&dance);
}

static void another_dance_is_not_found(void **state)
{
  (void)state;
  TestPiece dance = test_piece_make(1, DANCE_BARS);
  TestPiece other = test_piece_make(9, DANCE_BARS);
  CwAlignFeatures *a = test_measure(&other, &in_the_studio, BLOCK);
  CwAlignFeatures *b = measure_day(&dance, &in_the_studio);
  CwDayRuns runs;
  assert_int_equal(cw_day_search(a, b, NULL, &runs), CW_OK);
  assert_int_equal(runs.n, 0);
  cw_day_runs_free(&runs);
  cw_align_features_free(a);
  cw_align_features_free(b);
  test_piece_free(&dance);
  test_piece_free(&other);
}

static void each_allocation_that_fails_is_told(void **state)
{
  (void)state;
  TestPiece dance = test_piece_make(1, 6);
  TestPiece part[] = {test_piece_make(7, 4), test_piece_bars(&dance, 0, 6)};
  TestPiece day = join(part, 2);
  CwAlignFeatures *a = test_measure(&dance, &in_the_studio, BLOCK);
  CwAlignFeatures *b = test_measure(&day, &in_the_studio, BLOCK);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    CwDayRuns runs;
    cw_fail_after(n);
    status = cw_day_search(a, b, NULL, &runs);
    cw_fail_after(-1);
    assert_true(status == CW_OK || runs.n == 0);
    cw_day_runs_free(&runs);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 50);
  cw_align_features_free(a);
  cw_align_features_free(b);
  test_piece_free(&dance);
  test_piece_free(&day);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(both_runs_of_a_dance_are_found_with_their_pace),
      cmocka_unit_test(another_dance_is_not_found),
      cmocka_unit_test(each_allocation_that_fails_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
