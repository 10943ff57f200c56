// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/drift/hand_made.h"

#include "base/memory.h"

/// The map, of a recording that ends with it.
static CwTimeMap ended(const CwTimeMap *map)
{
  CwTimeMap same = *map;
  const CwMapSegment *last = &map->segment[map->n_segments - 1];
  same.b_duration_s = last->point[last->n - 1].b_s;
  return same;
}

/// What is said of a map to b.wav.
static void assert_said(const CwCountLine *a, const CwTimeMap *map, const char *const *wanted, size_t n)
{
  const CwTimeMap whole = map->b_duration_s > 90 ? ended(map) : *map;
  CwDriftOther other = {.name = "b.wav", .map = &whole};
  const CwDriftTable table = {.name = "a.wav", .other = &other, .n = 1};
  CwMessages messages = {0};
  assert_int_equal(cw_drift_by_map(a, map, &other.drift), CW_OK);
  assert_int_equal(cw_drift_summary(&table, &messages), CW_OK);
  for (size_t i = 0; i < messages.n && i < n; i++) {
    assert_string_equal(messages.text[i], wanted[i]);
  }
  assert_int_equal(messages.n, n);
  cw_messages_free(&messages);
  cw_drift_free(&other.drift);
}

static void the_largest_differences_are_said_first(void **state)
{
  (void)state;
  CwCountLine a = even_line(8); // 10 to 42
  const CwTimeMap map =
      MAP(SEGMENT({0, 0}, {14, 14}, {22, 21.68}, {26, 25.68}, {30, 29}, {34, 33}, {38, 38}, {60, 60}));
  const char *const wanted[] = {
      "phrase 5 (0:26.0 to 0:30.0) is 20 % faster in b.wav",
      "phrase 7 (0:34.0 to 0:38.0) is 20 % slower in b.wav",
      "phrases 2-3 (0:14.0 to 0:22.0) are a little faster in b.wav: 4.2 %",
  };
  assert_said(&a, &map, wanted, 3);
  cw_count_line_free(&a);
}

static void a_phrase_that_stands_out_is_named(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {10, 10}, {14, 13.8}, {18, 17}, {22, 20.8}, {60, 58.8}));
  const char *const wanted[] = {
      "phrases 1-3 (0:10.0 to 0:22.0) are 11 % faster in b.wav, most in phrase 2: 25 %",
      "at the one of phrase 4 b.wav is 1.2 s ahead",
  };
  assert_said(&a, &map, wanted, 2);
  cw_count_line_free(&a);
}

static void what_cannot_be_noticed_is_the_same(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {10, 10}, {22, 22.27}, {60, 60.27}));
  const char *const wanted[] = {"the tempo of b.wav is the same throughout",
                                "at the one of phrase 4 b.wav is 0.3 s behind"};
  assert_said(&a, &map, wanted, 2);
  cw_count_line_free(&a);
}

static void cuts_repeats_and_insertions_are_said(void **state)
{
  (void)state;
  CwCountLine a = even_line(10); // ones at 10 14 18 22 26 30 34 38 42 46
  // phrases 3-4 cut, phrases 5-6 twice, eight seconds of something else before phrase 9
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {18, 18}), SEGMENT({26, 18}, {34, 26}), SEGMENT({26, 26}, {42, 42}),
                            SEGMENT({42, 50}, {60, 68}));
  const char *const wanted[] = {
      "the tempo of b.wav is the same throughout",
      "at the one of phrase 10 b.wav is 8.0 s behind, with what it leaves out, repeats or waits",
      "b.wav leaves out phrases 3-4 (0:18.0 to 0:26.0)",
      "b.wav repeats phrases 5-6 (0:26.0 to 0:34.0), again at its 0:26.0",
      "b.wav waits or plays something else for 8.0 s before phrase 9 (its 0:42.0 to 0:50.0)",
  };
  assert_said(&a, &map, wanted, 5);
  cw_count_line_free(&a);
}

static void the_beginning_and_the_end_may_be_missing(void **state)
{
  (void)state;
  CwCountLine a = even_line(4); // 10 to 26
  const CwTimeMap map = MAP(SEGMENT({14, 0}, {22, 8}));
  const char *const wanted[] = {
      "the tempo of b.wav is the same throughout",
      "b.wav leaves out phrase 1 (0:10.0 to 0:14.0)",
      "b.wav leaves out phrase 4 (0:22.0 to 0:26.0)",
  };
  assert_said(&a, &map, wanted, 3);
  cw_count_line_free(&a);
}

static void lines_alone_have_no_cuts_to_tell(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  CwCountLine b = even_line(2);
  CwDriftOther other = {.name = "b.wav"};
  const CwDriftTable table = {.name = "a.wav", .other = &other, .n = 1};
  CwMessages messages = {0};
  assert_int_equal(cw_drift_by_lines(&a, &b, &other.drift), CW_OK);
  assert_int_equal(cw_drift_summary(&table, &messages), CW_OK);
  assert_int_equal(messages.n, 1);
  assert_string_equal(messages.text[0], "the tempo of b.wav is the same throughout");
  cw_messages_free(&messages);
  cw_drift_free(&other.drift);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

/// The sentences of a table of `a` and the maps.
static void assert_table_said(const CwCountLine *a, const CwTimeMap *map, const char *const *name, size_t n_others,
                              const char *const *section, const char *const *wanted, size_t n)
{
  CwDriftOther other[4] = {{0}};
  CwTimeMap whole[4];
  const CwDriftTable table = {.name = "a.wav", .other = other, .n = n_others, .section = section};
  CwMessages messages = {0};
  for (size_t o = 0; o < n_others; o++) {
    other[o].name = name[o];
    whole[o] = ended(&map[o]);
    other[o].map = &whole[o];
    assert_int_equal(cw_drift_by_map(a, &map[o], &other[o].drift), CW_OK);
  }
  assert_int_equal(cw_drift_summary(&table, &messages), CW_OK);
  for (size_t i = 0; i < messages.n && i < n; i++) {
    assert_string_equal(messages.text[i], wanted[i]);
  }
  assert_int_equal(messages.n, n);
  cw_messages_free(&messages);
  for (size_t o = 0; o < n_others; o++) {
    cw_drift_free(&other[o].drift);
  }
}

static void phrases_are_told_by_their_place_in_a_section(void **state)
{
  (void)state;
  static const char first[] = "Lanterns";
  static const char second[] = "The long way home";
  CwCountLine a = even_line(8); // ones at 10 14 18 22 26 30 34 38
  const char *const section[] = {first, first, first, first, second, second, second, second};
  const char *const name[] = {"b.wav", "c.wav", "d.wav"};
  const CwTimeMap map[] = {
      MAP(SEGMENT({0, 0}, {10, 10}, {18, 18}, {26, 25}, {60, 59})),                   // 3 and 4
      MAP(SEGMENT({0, 0}, {14, 14}, {18, 18.5}, {26, 26.5}, {42, 44.5}, {60, 62.5})), // 2; all of the second
      MAP(SEGMENT({0, 0}, {30, 30}, {38, 37.6}, {60, 59.6})),                         // 6 and 7
  };
  const char *const wanted[] = {
      "the last two eights of 'Lanterns' (phrases 3-4, 0:18.0 to 0:26.0) are 14 % faster in b.wav",
      "the second eight of 'Lanterns' (phrase 2, 0:14.0 to 0:18.0) is 11 % slower in c.wav",
      "all of 'The long way home' (phrases 5-8, 0:26.0 to 0:42.0) is 11 % slower in c.wav",
      "the second and third eights of 'The long way home' (phrases 6-7, 0:30.0 to 0:38.0) are 5.3 % faster in d.wav",
      "at the one of phrase 8 b.wav is 1.0 s ahead",
      "at the one of phrase 8 c.wav is 2.0 s behind",
      "at the one of phrase 8 d.wav is 0.4 s ahead",
  };
  assert_table_said(&a, map, name, 3, section, wanted, 7);
  cw_count_line_free(&a);
}

static void one_tempo_over_all_sections_is_told_at_once_and_two_are_not(void **state)
{
  (void)state;
  static const char first[] = "A";
  static const char second[] = "B";
  CwCountLine a = even_line(4);
  const char *const section[] = {first, first, second, second};
  const char *const name[] = {"b.wav"};
  const CwTimeMap even = MAP(SEGMENT({0, 0}, {60, 55}));
  const char *const once[] = {"phrases 1-4 (0:10.0 to 0:26.0) are 9.1 % faster in b.wav",
                              "at the one of phrase 4 b.wav is 1.0 s ahead"};
  assert_table_said(&a, &even, name, 1, section, once, 2);
  const CwTimeMap uneven = MAP(SEGMENT({0, 0}, {10, 10}, {18, 17.5}, {26, 24.5}, {60, 58.5}));
  const char *const apart[] = {"all of 'B' (phrases 3-4, 0:18.0 to 0:26.0) is 14 % faster in b.wav",
                               "all of 'A' (phrases 1-2, 0:10.0 to 0:18.0) is 6.7 % faster in b.wav",
                               "at the one of phrase 4 b.wav is 1.0 s ahead"};
  assert_table_said(&a, &uneven, name, 1, section, apart, 3);
  cw_count_line_free(&a);
}

static void a_new_start_is_told_with_the_phrase(void **state)
{
  (void)state;
  CwCountLine a = even_line(6); // ones at 10 14 18 22 26 30
  // stops on the fourth count of phrase 4, and seven seconds later plays again from phrase 2
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {23.5, 23.5}), SEGMENT({14, 30.5}, {60, 76.5}));
  const char *const wanted[] = {
      "the tempo of b.wav is the same throughout",
      "at the one of phrase 6 b.wav is 16.5 s behind, with what it leaves out, repeats or waits",
      "b.wav breaks off at its 0:23.5 in phrase 4, count 4 and starts again at its 0:30.5 from phrase 2",
  };
  assert_said(&a, &map, wanted, 3);
  cw_count_line_free(&a);
}

static void talk_before_and_applause_after_are_told(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  CwTimeMap map = MAP(SEGMENT({2, 14}, {58, 70}));
  map.b_duration_s = 89;
  const char *const wanted[] = {"the tempo of b.wav is the same throughout", "the music of b.wav begins at its 0:14.0",
                                "the music of b.wav ends at its 1:10.0"};
  assert_said(&a, &map, wanted, 3);
  cw_count_line_free(&a);
}

static void slow_attacks_and_tuning_are_told(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  CwTimeMap map = MAP(SEGMENT({0, 0}, {60, 60}));
  map.b_duration_s = 60;
  map.offset_s = 0.058;
  map.tuning_cents = -31;
  const char *const late[] = {"the tempo of b.wav is the same throughout",
                              "notes come in more slowly in b.wav: they are heard about 58 ms later than they begin, "
                              "compared with a.wav; the times say when they begin",
                              "b.wav is tuned 31 cents lower than a.wav"};
  assert_said(&a, &map, late, 3);
  map.offset_s = -0.058;
  map.tuning_cents = 9;
  const char *const early[] = {"the tempo of b.wav is the same throughout",
                               "notes come in more slowly in a.wav: they are heard about 58 ms later than they begin, "
                               "compared with b.wav; the times say when they begin"};
  assert_said(&a, &map, early, 2);
  cw_count_line_free(&a);
}

/// Carry, drift and summary. @return The first error.
static CwStatus all_once(const CwCountLine *a, const CwTimeMap *map)
{
  CwCountLine b = {0};
  CwDriftOther other = {.map = map};
  const CwDriftTable table = {.other = &other, .n = 1};
  CwDrift drift = {0};
  CwMessages messages = {0};
  CwStatus status = cw_carry(a, map, &b, NULL);
  assert_true(status == CW_OK || b.count_s == NULL);
  if (!status) {
    status = cw_drift_by_map(a, map, &other.drift);
    assert_true(status == CW_OK || other.drift.row == NULL);
  }
  if (!status) {
    status = cw_drift_summary(&table, &messages);
  }
  if (!status) {
    CwSeason season[4];
    status = cw_drift_season(&table, season);
  }
  if (!status) {
    CwSeason season;
    status = cw_drift_season_whole(&table, &season);
  }
  cw_drift_free(&other.drift);
  if (!status) {
    status = cw_drift_by_lines(a, &b, &drift);
    assert_true(status == CW_OK || drift.row == NULL);
  }
  cw_drift_free(&drift);
  cw_messages_free(&messages);
  cw_count_line_free(&b);
  return status;
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  CwCountLine a = even_line(4);
  const CwTimeMap map = MAP(SEGMENT({0, 0}, {14, 15}), SEGMENT({18, 15}, {26, 23}));
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = all_once(&a, &map);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 10);
  cw_drift_free(NULL);
  cw_time_map_free(NULL);
  cw_align_features_free(NULL);
  cw_count_line_free(&a);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_largest_differences_are_said_first),
      cmocka_unit_test(a_phrase_that_stands_out_is_named),
      cmocka_unit_test(what_cannot_be_noticed_is_the_same),
      cmocka_unit_test(cuts_repeats_and_insertions_are_said),
      cmocka_unit_test(the_beginning_and_the_end_may_be_missing),
      cmocka_unit_test(phrases_are_told_by_their_place_in_a_section),
      cmocka_unit_test(one_tempo_over_all_sections_is_told_at_once_and_two_are_not),
      cmocka_unit_test(a_new_start_is_told_with_the_phrase),
      cmocka_unit_test(talk_before_and_applause_after_are_told),
      cmocka_unit_test(slow_attacks_and_tuning_are_told),
      cmocka_unit_test(lines_alone_have_no_cuts_to_tell),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
