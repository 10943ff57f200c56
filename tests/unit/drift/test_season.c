// SPDX-License-Identifier: GPL-3.0-or-later
// Passages of a drift, and tempo over many recordings.
#include <math.h>

#include "unit/drift/hand_made.h"

enum { PHRASES = 6 };

/// Recordings played at even tempi of their own, 100 / `pace` percent of the first's.
static void play(const CwCountLine *a, const double *pace, size_t n, CwDriftOther *other)
{
  for (size_t o = 0; o < n; o++) {
    CwMapPoint ends[] = {{0, 0}, {60, 60 * pace[o]}};
    CwMapSegment segment = {.point = ends, .n = 2};
    const CwTimeMap map = {.segment = &segment, .n_segments = 1, .a_duration_s = 60, .b_duration_s = 100};
    other[o] = (CwDriftOther){.name = "b"};
    assert_int_equal(cw_drift_by_map(a, &map, &other[o].drift), CW_OK);
  }
}

static void release(CwDriftOther *other, size_t n)
{
  for (size_t o = 0; o < n; o++) {
    cw_drift_free(&other[o].drift);
  }
}

static void the_season_has_range_and_median(void **state)
{
  (void)state;
  const double pace[] = {1.25, 0.8, 1.0 / 1.1};
  CwCountLine a = even_line(PHRASES); // 120 a minute
  CwDriftOther other[3];
  CwSeason season[PHRASES];
  CwSeason whole;
  play(&a, pace, 3, other);
  other[1].drift.row[2].present = false;
  const CwDriftTable table = {.other = other, .n = 3};
  assert_int_equal(cw_drift_season(&table, season), CW_OK);
  assert_int_equal(season[0].n, 4);
  assert_near(season[0].slowest, 96, 1e-9);
  assert_near(season[0].median, 126, 1e-9); // between 120 and 132
  assert_near(season[0].fastest, 150, 1e-9);
  assert_int_equal(season[2].n, 3);
  assert_near(season[2].median, 120, 1e-9);
  assert_near(season[2].fastest, 132, 1e-9);
  assert_int_equal(cw_drift_season_whole(&table, &whole), CW_OK);
  assert_int_equal(whole.n, 4);
  assert_near(whole.slowest, 96, 1e-9);
  assert_near(whole.median, 126, 1e-9);
  assert_near(whole.fastest, 150, 1e-9);
  release(other, 3);
  cw_count_line_free(&a);
}

static void a_passage_is_told_from_its_own_beginning(void **state)
{
  (void)state;
  const double pace[] = {1.25};
  CwCountLine a = even_line(PHRASES);
  CwDriftOther other[1];
  play(&a, pace, 1, other);
  CwDrift *drift = &other[0].drift;
  cw_drift_keep(drift, 2, 4);
  assert_int_equal(drift->n, 3);
  assert_int_equal(drift->row[0].number, 3);
  assert_near(drift->row[0].ahead_s, 0, 1e-9);
  assert_near(drift->row[1].ahead_s, -1, 1e-9); // four seconds take five
  assert_near(drift->row[2].ahead_s, -2, 1e-9);
  const CwDriftRow whole = cw_drift_whole(drift);
  assert_true(whole.present);
  assert_int_equal(whole.number, 3);
  assert_int_equal(whole.counts, 24);
  assert_near(whole.a_counts_per_min, 120, 1e-9);
  assert_near(whole.b_counts_per_min, 96, 1e-9);
  assert_near(whole.percent, -20, 1e-9);
  assert_near(whole.ahead_s, -3, 1e-9);
  release(other, 1);
  cw_count_line_free(&a);
}

static void what_one_recording_lacks_makes_it_neither_quick_nor_slow(void **state)
{
  (void)state;
  const double pace[] = {1.0};
  CwCountLine a = even_line(PHRASES);
  CwDriftOther other[1];
  play(&a, pace, 1, other);
  CwDrift *drift = &other[0].drift;
  for (size_t i = 0; i < 3; i++) { // the second half is at half the tempo in both
    drift->row[i + 3].a_counts_per_min = 60;
    drift->row[i + 3].b_counts_per_min = 60;
    drift->row[i].present = false;
  }
  const CwDriftTable table = {.other = other, .n = 1};
  CwSeason whole;
  assert_int_equal(cw_drift_season_whole(&table, &whole), CW_OK);
  assert_near(whole.slowest, 80, 1e-9);
  assert_near(whole.fastest, 80, 1e-9);
  release(other, 1);
  cw_count_line_free(&a);
}

static void nothing_in_common_is_no_tempo(void **state)
{
  (void)state;
  const double pace[] = {1.0};
  CwCountLine a = even_line(2);
  CwDriftOther other[1];
  play(&a, pace, 1, other);
  other[0].drift.row[0].present = false;
  other[0].drift.row[1].present = false;
  const CwDriftRow whole = cw_drift_whole(&other[0].drift);
  assert_false(whole.present);
  assert_true(isnan(whole.percent) && isnan(whole.ahead_s) && isnan(whole.b_counts_per_min));
  release(other, 1);
  cw_count_line_free(&a);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_season_has_range_and_median),
      cmocka_unit_test(a_passage_is_told_from_its_own_beginning),
      cmocka_unit_test(what_one_recording_lacks_makes_it_neither_quick_nor_slow),
      cmocka_unit_test(nothing_in_common_is_no_tempo),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
