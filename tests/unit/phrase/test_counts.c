// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/phrases.h"
#include "phrase/counts.h"
#include "unit/phrase/beat_lists.h"

/// Counts of a list of beats. Release with counts_free().
typedef struct {
  CwBeats beats;
  CwCount *count;
  size_t n;
  double usual;
} Counts;

static void make(Counts *counts, double beats_per_count)
{
  assert_int_equal(cw_counts_make(&counts->beats, beats_per_count, &counts->count, &counts->n, &counts->usual), CW_OK);
  for (size_t i = 0; i < counts->n; i++) {
    assert_true(counts->count[i].end_s > counts->count[i].time_s);
    assert_true(i == 0 || counts->count[i].time_s >= counts->count[i - 1].end_s);
  }
}

static void counts_free(Counts *counts)
{
  cw_beats_free(&counts->beats);
  free(counts->count);
  counts->count = NULL;
}

static void quick_bars_of_three_are_a_count_and_slow_beats_are_two(void **state)
{
  (void)state;
  static const struct {
    double bpm;
    unsigned metre;
    double wanted;
  } row[] = {
      {120, 4, 1}, {120, 2, 1}, {60, 3, 1},   {100, 3, 1},  {111, 3, 1},  {112, 3, 3},  {180, 3, 3},
      {190, 6, 3}, {100, 6, 1}, {40, 4, 0.5}, {47, 3, 0.5}, {48, 4, 1},   {40, 0, 0.5}, {170, 4, 1},
      {171, 4, 2}, {200, 2, 2}, {200, 0, 2},  {90, 0, 1},   {30, 6, 0.5},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    assert_near(cw_beats_per_count(row[i].bpm, row[i].metre), row[i].wanted, 0);
  }
}

static void a_beat_is_a_count(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 1.0, 0.6, 12, 4, 3);
  make(&c, 0);
  assert_int_equal(c.n, 12);
  assert_near(c.usual, 1, 0);
  for (size_t i = 0; i < c.n; i++) {
    assert_near(c.count[i].time_s, 1.0 + 0.6 * (double)i, 1e-9);
    assert_near(c.count[i].end_s, 1.0 + 0.6 * (double)(i + 1), 1e-9); // the last one lasts as long as the others
    assert_int_equal(c.count[i].bar_start, i % 4 == 2);
    assert_int_equal(c.count[i].run_start, i == 0);
    assert_near((double)c.count[i].confidence, 0.9, 1e-6);
  }
  counts_free(&c);
}

static void a_slow_beat_is_two_counts(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 2.0, 1.5, 6, 4, 1);
  make(&c, 0);
  assert_int_equal(c.n, 12);
  assert_near(c.usual, 0.5, 0);
  for (size_t i = 0; i < c.n; i++) {
    assert_near(c.count[i].time_s, 2.0 + 0.75 * (double)i, 1e-9);
    assert_int_equal(c.count[i].bar_start, i % 8 == 0);
    assert_int_equal(c.count[i].run_start, i == 0);
  }
  assert_near(c.count[11].end_s, 11.0, 1e-9);
  counts_free(&c);
}

static void a_quick_bar_of_three_is_a_count(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 0.5, 0.4, 20, 3, 3); // 150 a minute; a pick-up of one beat
  make(&c, 0);
  assert_near(c.usual, 3, 0);
  assert_int_equal(c.n, 7);
  for (size_t i = 0; i < c.n; i++) {
    assert_near(c.count[i].time_s, 0.9 + 1.2 * (double)i, 1e-9);
    assert_true(c.count[i].bar_start);
    // the last bar has one beat only
    assert_near(c.count[i].end_s, c.count[i].time_s + (i + 1 < c.n ? 1.2 : 0.4), 1e-9);
  }
  counts_free(&c);
}

static void what_is_asked_for_is_done(void **state)
{
  (void)state;
  static const struct {
    double asked, used;
    size_t n;
  } row[] = {{1, 1, 24}, {2, 2, 12}, {4, 4, 6}, {0.5, 0.5, 48}, {-1, 1, 24}, {0, 1, 24}, {NAN, 1, 24}};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    Counts c = {0};
    add_run(&c.beats, 0.5, 0.5, 24, 4, 1);
    make(&c, row[i].asked);
    assert_int_equal(c.n, row[i].n);
    assert_near(c.usual, row[i].used, 0);
    assert_near(c.count[1].time_s, 0.5 + 0.5 * row[i].used, 1e-9);
    counts_free(&c);
  }
}

/// No number of beats is rounded: counts lie between beats, or run on through the bars.
static void any_number_of_beats_makes_a_count(void **state)
{
  (void)state;
  static const struct {
    double asked;
    unsigned metre, position; // of the first beat
    double first;             // count, in beats after the first beat
    size_t n;
  } row[] = {
      {1.5, 3, 1, 0, 16},     {0.7, 4, 1, 0, 35},           {8, 4, 1, 0, 3},      {2, 3, 1, 0, 12},   {3, 4, 1, 0, 8},
      {1.0 / 3, 2, 1, 0, 72}, {2.0 / 3, 2, 2, 1.0 / 3, 36}, {1.5, 3, 2, 0.5, 16}, {2.5, 5, 1, 0, 10}, {4, 4, 3, 2, 6},
      {8, 4, 3, 2, 3},        {0.25, 4, 2, 0, 96},
  };
  for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
    Counts c = {0};
    add_run(&c.beats, 0.5, 0.5, 24, row[k].metre, row[k].position);
    make(&c, row[k].asked);
    assert_near(c.usual, row[k].asked, 0);
    assert_int_equal(c.n, row[k].n);
    for (size_t i = 0; i < c.n; i++) {
      assert_near(c.count[i].time_s, 0.5 + 0.5 * (row[k].first + row[k].asked * (double)i), 1e-6);
    }
    counts_free(&c);
  }
}

/// As the header says: 0.25 to 16.
static void a_count_is_neither_endless_nor_nothing(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 0.5, 0.5, 48, 4, 1);
  make(&c, 1e-9);
  assert_int_equal(c.n, 4 * 48);
  free(c.count);
  make(&c, 1e9);
  assert_int_equal(c.n, 3);
  counts_free(&c);
}

static void a_pause_parts_two_runs_of_counts(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 0.5, 0.5, 8, 4, 1);
  add_run(&c.beats, 10.0, 0.6, 8, 4, 1);
  make(&c, 0);
  assert_int_equal(c.n, 16);
  for (size_t i = 0; i < c.n; i++) {
    assert_int_equal(c.count[i].run_start, i % 8 == 0);
  }
  assert_near(c.count[7].end_s, 4.5, 1e-9); // not up to the next run
  assert_near(c.count[15].end_s, 14.8, 1e-9);
  counts_free(&c);
}

/// The first beats of a run may be the last of a bar; the run of counts then begins with the next bar.
static void a_run_that_begins_within_a_bar_begins_with_its_first_count(void **state)
{
  (void)state;
  static const struct {
    double interval_s, pause_s;
  } row[] = {{0.4, 1.02}, {0.4, 8.0}, {0.9, 1.02}, {0.9, 1.6}};
  for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
    Counts c = {0};
    const double last_s = 0.5 + 8 * row[k].interval_s;
    add_run(&c.beats, 0.5, row[k].interval_s, 9, 3, 1);
    add_run(&c.beats, last_s + row[k].pause_s, 0.4, 10, 3, 3);
    make(&c, 3);
    assert_int_equal(c.n, 6);
    for (size_t i = 0; i < c.n; i++) {
      assert_int_equal(c.count[i].run_start, i == 0 || i == 3);
    }
    assert_near(c.count[2].end_s, last_s + row[k].interval_s, 1e-9);
    counts_free(&c);
  }
}

static void each_metre_has_its_own_counts(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 0.5, 0.4, 24, 3, 1);
  add_stretch(&c.beats, 0.4, 32, 4);
  add_stretch(&c.beats, 0.4, 12, 3);
  make(&c, 0);
  assert_int_equal(c.n, 8 + 32 + 4);
  assert_near(c.usual, 1, 0); // of most counts
  for (size_t i = 0; i < c.n; i++) {
    assert_int_equal(c.count[i].run_start, i == 0);
    assert_near(c.count[i].end_s - c.count[i].time_s, i >= 8 && i < 40 ? 0.4 : 1.2, 1e-9);
  }
  counts_free(&c);
}

static void one_beat_is_one_count_and_no_beat_is_none(void **state)
{
  (void)state;
  Counts c = {0};
  add_run(&c.beats, 3.0, 1.0, 1, 4, 2);
  make(&c, 0);
  assert_int_equal(c.n, 1);
  assert_near(c.count[0].time_s, 3.0, 0);
  assert_true(c.count[0].end_s > 3.0);
  assert_true(c.count[0].run_start);
  counts_free(&c);
  make(&c, 0);
  assert_int_equal(c.n, 0);
  counts_free(&c);
}

/// A run may begin sooner than the last beat before it would have ended: beats of two seconds, a pause of one.
static void counts_end_where_the_next_run_begins(void **state)
{
  (void)state;
  static const double beats_per_count[] = {0, 0.5, 1, 2};
  for (size_t k = 0; k < sizeof beats_per_count / sizeof beats_per_count[0]; k++) {
    for (double pause_s = 0.9; pause_s < 2.2; pause_s += 0.05) {
      Counts c = {0};
      add_run(&c.beats, 0.5, 2.0, 8, 4, 1);
      add_run(&c.beats, 14.5 + pause_s, 2.0, 8, 4, 1);
      make(&c, beats_per_count[k]); // which asks that they ascend
      size_t runs = 0;
      for (size_t i = 0; i < c.n; i++) {
        runs += c.count[i].run_start;
      }
      assert_int_equal(runs, 2);
      counts_free(&c);
    }
  }
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  static const double beats_per_count[] = {0.5, 1};
  for (size_t k = 0; k < 2; k++) {
    Counts c = {0};
    add_run(&c.beats, 0.5, 0.5, 100, 4, 1);
    CwStatus status = CW_ERR_NO_MEM;
    long n = 0;
    for (; status != CW_OK && n < 50; n++) {
      cw_fail_after(n);
      status = cw_counts_make(&c.beats, beats_per_count[k], &c.count, &c.n, &c.usual);
      cw_fail_after(-1);
      assert_int_equal(c.count != NULL, status == CW_OK);
    }
    assert_int_equal(status, CW_OK);
    assert_true(n > 3);
    counts_free(&c);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(quick_bars_of_three_are_a_count_and_slow_beats_are_two),
      cmocka_unit_test(a_beat_is_a_count),
      cmocka_unit_test(a_slow_beat_is_two_counts),
      cmocka_unit_test(a_quick_bar_of_three_is_a_count),
      cmocka_unit_test(what_is_asked_for_is_done),
      cmocka_unit_test(any_number_of_beats_makes_a_count),
      cmocka_unit_test(a_count_is_neither_endless_nor_nothing),
      cmocka_unit_test(a_pause_parts_two_runs_of_counts),
      cmocka_unit_test(a_run_that_begins_within_a_bar_begins_with_its_first_count),
      cmocka_unit_test(each_metre_has_its_own_counts),
      cmocka_unit_test(one_beat_is_one_count_and_no_beat_is_none),
      cmocka_unit_test(counts_end_where_the_next_run_begins),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
