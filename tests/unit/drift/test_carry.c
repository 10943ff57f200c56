// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/drift/hand_made.h"

static void the_time_map_is_read_between_its_points(void **state)
{
  (void)state;
  const CwTimeMap map = MAP(SEGMENT({0, 2}, {10, 12}, {20, 32}), SEGMENT({30, 32.5}, {40, 42.5}));
  assert_near(cw_time_map_at(&map, 0), 2, 1e-12);
  assert_near(cw_time_map_at(&map, 5), 7, 1e-12);
  assert_near(cw_time_map_at(&map, 15), 22, 1e-12);
  assert_near(cw_time_map_at(&map, 20), 32, 1e-12);
  assert_near(cw_time_map_at(&map, 40), 42.5, 1e-12);
  assert_true(isnan(cw_time_map_at(&map, 25)));
  assert_true(isnan(cw_time_map_at(&map, -0.1)));
  assert_true(isnan(cw_time_map_at(&map, 40.1)));
  assert_true(isnan(cw_time_map_at(&map, NAN)));
  const CwTimeMap nothing = {0};
  assert_true(isnan(cw_time_map_at(&nothing, 0)));
}

static void of_music_played_twice_the_first_time_counts(void **state)
{
  (void)state;
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {20, 20}), SEGMENT({10, 20}, {40, 50}));
  assert_near(cw_time_map_at(&map, 15), 15, 1e-12);
  assert_near(cw_time_map_at(&map, 25), 35, 1e-12);
}

static void how_sure_a_phrase_is_goes_with_it(void **state)
{
  (void)state;
  CwCountLine a = even_line(3); // ones at 10, 14, 18; 0.75 sure
  a.phrase[1].confidence = 1;
  a.phrase[2].confidence = -1;
  double sure[] = {0.4, 0.8, 0.6};
  CwMapPoint point[] = {{0, 5}, {14, 19}, {60, 65}};
  CwMapSegment segment = {.point = point, .n = 3, .sure = sure};
  const CwTimeMap map = {.segment = &segment, .n_segments = 1, .a_duration_s = 60, .b_duration_s = 100};
  CwCountLine b;
  assert_near(cw_time_map_sure(&map, 0), 0.4, 1e-12);
  assert_near(cw_time_map_sure(&map, 7), 0.6, 1e-12);
  assert_near(cw_time_map_sure(&map, 60), 0.6, 1e-12);
  assert_true(isnan(cw_time_map_sure(&map, 61)));
  assert_int_equal(cw_carry(&a, &map, &b, NULL), CW_OK);
  assert_near(b.phrase[0].confidence, 0.75 * (0.4 + 0.4 * 10 / 14), 1e-12);
  assert_near(b.phrase[1].confidence, 0.8, 1e-12);
  assert_true(b.phrase[2].confidence < 0);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

static void counts_are_carried_with_their_phrases(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  CwCountLine b;
  size_t kept[4];
  const CwTimeMap map = MAP(SEGMENT({0, 5}, {18, 23}, {60, 86}));
  assert_int_equal(cw_carry(&a, &map, &b, kept), CW_OK);
  assert_int_equal(b.n_phrases, 4);
  assert_int_equal(b.n_counts, 32);
  assert_int_equal(b.metre, 4);
  assert_near(b.beats_per_count, 2.0, 0);
  assert_near(b.duration_s, 100, 0);
  assert_near(cw_count_line_start(&b, 0), 15, 1e-9);
  assert_near(b.phrase[0].confidence, 0.75, 0);
  for (size_t i = 0; i < a.n_counts; i++) {
    assert_near(b.count_s[i], cw_time_map_at(&map, a.count_s[i]), 1e-9);
  }
  for (size_t p = 0; p < 4; p++) {
    assert_int_equal(kept[p], p);
    assert_near(b.phrase[p].end_s, cw_time_map_at(&map, a.phrase[p].end_s), 1e-9);
  }
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

static void before_a_hold_the_last_count_is_as_long_as_the_others(void **state)
{
  (void)state;
  CwCountLine a;
  CwCountLine b;
  cw_count_line_init(&a, 20);
  assert_int_equal(cw_count_line_add(&a, (double[]){2, 3, 4, 5}, 4, 6, 1.0), CW_OK);
  assert_int_equal(cw_count_line_add(&a, (double[]){9, 10, 11, 12}, 4, 13, 1.0), CW_OK);
  // b plays the counts in 0.8 s and holds from its 4.4 s to 10 s
  const CwTimeMap map = MAP(SEGMENT({0, 0.4}, {2, 2}, {5, 4.4}, {9, 10}, {12, 12.4}, {13, 15}));
  assert_int_equal(cw_carry(&a, &map, &b, NULL), CW_OK);
  assert_near(b.phrase[0].end_s, 5.2, 1e-9);
  assert_near(b.phrase[1].end_s, 13.2, 1e-9);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

static void a_phrase_that_is_cut_is_left_out(void **state)
{
  (void)state;
  CwCountLine a = even_line(6); // ones at 10 14 18 22 26 30
  CwCountLine b;
  size_t kept[6];
  // cut from 17.9 to 26.05: the one of phrase 5 lies a little before the second segment and is carried all the same
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {17.9, 17.9}), SEGMENT({26.05, 17.95}, {60, 51.9}));
  assert_int_equal(cw_carry(&a, &map, &b, kept), CW_OK);
  assert_int_equal(b.n_phrases, 4);
  const size_t wanted[6] = {0, 1, SIZE_MAX, SIZE_MAX, 2, 3};
  for (size_t p = 0; p < 6; p++) {
    assert_int_equal(kept[p], wanted[p]);
  }
  assert_near(cw_count_line_start(&b, 2), 17.9, 1e-9);
  assert_near(b.phrase[1].end_s, 17.9, 0.11);
  cw_count_line_free(&b);
  assert_int_equal(cw_carry(&a, &map, &b, NULL), CW_OK);
  assert_int_equal(b.n_phrases, 4);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

static void sections_in_another_order_are_carried_in_b_s_order(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  CwCountLine b;
  size_t kept[4];
  const CwTimeMap map = MAP(SEGMENT({18, 2}, {26, 10}), SEGMENT({10, 10}, {18, 18}));
  assert_int_equal(cw_carry(&a, &map, &b, kept), CW_OK);
  assert_int_equal(b.n_phrases, 4);
  assert_int_equal(kept[0], 2);
  assert_int_equal(kept[1], 3);
  assert_int_equal(kept[2], 0);
  assert_int_equal(kept[3], 1);
  assert_near(cw_count_line_start(&b, 0), 2, 1e-9);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

static void an_empty_line_or_map_gives_an_empty_line(void **state)
{
  (void)state;
  CwCountLine a = even_line(2);
  CwCountLine empty;
  CwCountLine b;
  cw_count_line_init(&empty, 10);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {60, 60}));
  const CwTimeMap nothing = {.a_duration_s = 20, .b_duration_s = 30};
  assert_int_equal(cw_carry(&empty, &map, &b, NULL), CW_OK);
  assert_int_equal(b.n_phrases, 0);
  size_t kept[2];
  assert_int_equal(cw_carry(&a, &nothing, &b, kept), CW_OK);
  assert_int_equal(b.n_phrases, 0);
  assert_int_equal(kept[1], SIZE_MAX);
  CwDrift drift;
  assert_int_equal(cw_drift_by_map(&a, &nothing, &drift), CW_OK);
  assert_int_equal(drift.n, 2);
  assert_false(drift.row[0].present);
  assert_true(isnan(drift.row[1].ahead_s));
  cw_drift_free(&drift);
  cw_count_line_free(&a);
}

static void drift_is_in_percent_and_seconds(void **state)
{
  (void)state;
  CwCountLine a = even_line(3); // 120 counts a minute
  CwDrift drift;
  // phrase 1 at 120, phrase 2 in 3.2 s, phrase 3 in 5 s
  const CwTimeMap map = MAP(SEGMENT({10, 30}, {14, 34}, {18, 37.2}, {22, 42.2}));
  assert_int_equal(cw_drift_by_map(&a, &map, &drift), CW_OK);
  assert_int_equal(drift.n, 3);
  assert_int_equal(drift.row[1].number, 2);
  assert_int_equal(drift.row[1].counts, 8);
  assert_true(drift.row[2].present);
  assert_near(drift.row[0].percent, 0, 1e-9);
  assert_near(drift.row[1].percent, 25, 1e-9);
  assert_near(drift.row[2].percent, -20, 1e-9);
  assert_near(drift.row[1].a_counts_per_min, 120, 1e-9);
  assert_near(drift.row[1].b_counts_per_min, 150, 1e-9);
  assert_near(drift.row[0].ahead_s, 0, 1e-9);
  assert_near(drift.row[1].ahead_s, 0, 1e-9);
  assert_near(drift.row[2].ahead_s, 0.8, 1e-9);
  assert_near(drift.row[2].b_start_s, 37.2, 1e-9);
  assert_near(drift.row[2].b_end_s, 42.2, 1e-9);
  cw_drift_free(&drift);
  cw_count_line_free(&a);
}

static void two_lines_are_compared_phrase_by_phrase(void **state)
{
  (void)state;
  CwCountLine a = even_line(5);
  CwCountLine b;
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {60, 57}));
  CwCountLine carried;
  assert_int_equal(cw_carry(&a, &map, &carried, NULL), CW_OK);
  CwDrift by_map;
  CwDrift by_lines;
  assert_int_equal(cw_drift_by_map(&a, &map, &by_map), CW_OK);
  assert_int_equal(cw_drift_by_lines(&a, &carried, &by_lines), CW_OK);
  assert_memory_equal(by_map.row, by_lines.row, 5 * sizeof *by_map.row);
  assert_near(by_lines.row[4].percent, 100.0 * (60.0 / 57.0 - 1), 1e-9);
  cw_drift_free(&by_lines);
  b = even_line(3);
  assert_int_equal(cw_drift_by_lines(&a, &b, &by_lines), CW_OK);
  assert_int_equal(by_lines.n, 5);
  assert_true(by_lines.row[2].present);
  assert_false(by_lines.row[3].present);
  assert_true(isnan(by_lines.row[3].percent));
  assert_near(by_lines.row[3].a_counts_per_min, 120, 1e-9);
  cw_drift_free(&by_lines);
  cw_drift_free(&by_map);
  cw_count_line_free(&carried);
  cw_count_line_free(&b);
  cw_count_line_free(&a);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_time_map_is_read_between_its_points),
      cmocka_unit_test(of_music_played_twice_the_first_time_counts),
      cmocka_unit_test(how_sure_a_phrase_is_goes_with_it),
      cmocka_unit_test(counts_are_carried_with_their_phrases),
      cmocka_unit_test(before_a_hold_the_last_count_is_as_long_as_the_others),
      cmocka_unit_test(a_phrase_that_is_cut_is_left_out),
      cmocka_unit_test(sections_in_another_order_are_carried_in_b_s_order),
      cmocka_unit_test(an_empty_line_or_map_gives_an_empty_line),
      cmocka_unit_test(drift_is_in_percent_and_seconds),
      cmocka_unit_test(two_lines_are_compared_phrase_by_phrase),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
