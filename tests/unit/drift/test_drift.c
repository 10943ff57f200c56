// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdint.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/drift.h"

enum { PHRASES = 6, COUNTS = 8 };

/// Six eights at 120 counts a minute, from 2 s on; after the third a hold of 2 s.
static void make_line(CwCountLine *line)
{
  cw_count_line_init(line, 30.0);
  double at = 2.0;
  for (int p = 0; p < PHRASES; p++) {
    double count_s[COUNTS];
    for (int c = 0; c < COUNTS; c++) {
      count_s[c] = at + 0.5 * c;
    }
    assert_int_equal(cw_count_line_add(line, count_s, COUNTS, at + 4.0, 0.9), CW_OK);
    at += p == 2 ? 6.0 : 4.0;
  }
}

/// A map of straight stretches: `n` segments of two points each.
static CwTimeMap map_of(CwMapPoint (*ends)[2], CwMapSegment *segment, size_t n, double b_duration_s)
{
  for (size_t i = 0; i < n; i++) {
    segment[i] = (CwMapSegment){.point = ends[i], .n = 2};
  }
  return (CwTimeMap){.segment = segment, .n_segments = n, .a_duration_s = 30.0, .b_duration_s = b_duration_s};
}

static CwStatus summarise(const CwDrift *drift, const CwTimeMap *map, CwMessages *words)
{
  const CwDriftOther other = {.drift = *drift, .map = map};
  const CwDriftTable table = {.other = &other, .n = 1};
  return cw_drift_summary(&table, words);
}

static bool any_says(const CwMessages *messages, const char *words)
{
  for (size_t i = 0; i < messages->n; i++) {
    if (strstr(messages->text[i], words)) {
      return true;
    }
  }
  return false;
}

static void the_same_recording_does_not_drift(void **state)
{
  (void)state;
  CwCountLine a;
  CwDrift drift;
  CwMessages words = {0};
  CwMapPoint ends[1][2] = {{{0, 0}, {30, 30}}};
  CwMapSegment segment[1];
  const CwTimeMap map = map_of(ends, segment, 1, 30.0);
  make_line(&a);
  assert_int_equal(cw_drift_by_map(&a, &map, &drift), CW_OK);
  assert_int_equal(drift.n, PHRASES);
  for (size_t i = 0; i < drift.n; i++) {
    assert_true(drift.row[i].present);
    assert_near(drift.row[i].percent, 0.0, 1e-9);
    assert_near(drift.row[i].ahead_s, 0.0, 1e-9);
    assert_near(drift.row[i].b_start_s, cw_count_line_start(&a, i), 1e-12);
  }
  assert_int_equal(summarise(&drift, &map, &words), CW_OK);
  assert_false(any_says(&words, "faster"));
  assert_false(any_says(&words, "leaves out"));
  cw_messages_free(&words);
  cw_drift_free(&drift);
  cw_count_line_free(&a);
}

static void a_quicker_recording_is_quicker_by_as_much(void **state)
{
  (void)state;
  CwCountLine a;
  CwDrift drift;
  CwMapPoint ends[1][2] = {{{0, 1}, {30, 1 + 30 / 1.05}}};
  CwMapSegment segment[1];
  const CwTimeMap map = map_of(ends, segment, 1, 30.0);
  make_line(&a);
  assert_int_equal(cw_drift_by_map(&a, &map, &drift), CW_OK);
  for (size_t i = 0; i < drift.n; i++) {
    const double start_s = cw_count_line_start(&a, i);
    assert_near(drift.row[i].percent, 5.0, 1e-6);
    assert_near(drift.row[i].b_counts_per_min, 126.0, 1e-6);
    assert_near(drift.row[i].ahead_s, (start_s - 2.0) * (1 - 1 / 1.05), 1e-9);
  }
  cw_drift_free(&drift);
  cw_count_line_free(&a);
}

/// Where a hold is longer in b, the phrase before it is not slower for that.
static void a_longer_hold_does_not_slow_the_phrase_before_it(void **state)
{
  (void)state;
  CwCountLine a;
  CwDrift drift;
  CwMapPoint points[] = {{0, 0}, {13.5, 13.5}, {16, 20}, {30, 34}}; // the hold: from 14 to 16 s in a
  CwMapSegment segment = {.point = points, .n = 4};
  const CwTimeMap map = {.segment = &segment, .n_segments = 1, .a_duration_s = 30.0, .b_duration_s = 34.0};
  make_line(&a);
  assert_int_equal(cw_drift_by_map(&a, &map, &drift), CW_OK);
  assert_near(drift.row[2].percent, 0.0, 1e-6);
  assert_near(drift.row[2].b_end_s, 14.0, 1e-9);
  assert_near(drift.row[3].percent, 0.0, 1e-6);
  assert_near(drift.row[3].ahead_s, -4.0, 1e-9);
  cw_drift_free(&drift);
  cw_count_line_free(&a);
}

static void what_is_cut_is_not_present_and_is_said(void **state)
{
  (void)state;
  CwCountLine a;
  CwDrift drift;
  CwCountLine b;
  CwMessages words = {0};
  size_t kept[PHRASES];
  CwMapPoint ends[2][2] = {{{0, 0}, {6, 6}}, {{16, 6}, {30, 20}}}; // phrases 2 and 3 and the hold are left out
  CwMapSegment segment[2];
  const CwTimeMap map = map_of(ends, segment, 2, 20.0);
  make_line(&a);
  assert_int_equal(cw_carry(&a, &map, &b, kept), CW_OK);
  assert_int_equal(b.n_phrases, 4);
  assert_int_equal(kept[0], 0);
  assert_true(kept[1] == SIZE_MAX && kept[2] == SIZE_MAX);
  assert_int_equal(kept[3], 1);
  assert_int_equal(cw_drift_by_map(&a, &map, &drift), CW_OK);
  assert_false(drift.row[1].present);
  assert_true(isnan(drift.row[2].b_start_s));
  assert_true(drift.row[3].present);
  assert_near(drift.row[3].percent, 0.0, 1e-6);
  assert_int_equal(summarise(&drift, &map, &words), CW_OK);
  assert_true(any_says(&words, "leaves out"));
  cw_messages_free(&words);
  cw_drift_free(&drift);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

/// Notes may run on to the very end of the recording, or past what was matched of it: the summary must end all the same.
static void the_summary_ends_whatever_the_last_phrase(void **state)
{
  (void)state;
  CwCountLine a;
  CwDrift drift;
  CwMessages words = {0};
  CwMapPoint ends[1][2] = {{{0, 0}, {26, 26}}};
  CwMapSegment segment[1];
  CwTimeMap map = map_of(ends, segment, 1, 30.0);
  make_line(&a);
  assert_int_equal(cw_drift_by_map(&a, &map, &drift), CW_OK);
  for (double end_s = 20.0; end_s < 40.0; end_s += 0.5) {
    drift.row[PHRASES - 1].a_end_s = end_s;
    map.a_duration_s = 28.0; // less than the last phrase needs
    assert_int_equal(summarise(&drift, &map, &words), CW_OK);
    cw_messages_free(&words);
  }
  cw_drift_free(&drift);
  cw_count_line_free(&a);
}

static void lines_made_apart_are_compared_phrase_by_phrase(void **state)
{
  (void)state;
  CwCountLine a;
  CwCountLine b;
  CwDrift drift;
  make_line(&a);
  cw_count_line_init(&b, 30.0);
  const double count_s[] = {1.0, 1.4, 1.8, 2.2};
  assert_int_equal(cw_count_line_add(&b, count_s, 4, 2.6, 1.0), CW_OK);
  assert_int_equal(cw_drift_by_lines(&a, &b, &drift), CW_OK);
  assert_near(drift.row[0].percent, 25.0, 1e-9);
  assert_false(drift.row[1].present);
  cw_drift_free(&drift);
  cw_count_line_free(&a);
  cw_count_line_free(&b);
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  CwCountLine a;
  CwMapPoint ends[1][2] = {{{0, 0}, {30, 28}}};
  CwMapSegment segment[1];
  const CwTimeMap map = map_of(ends, segment, 1, 30.0);
  make_line(&a);
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status != CW_OK; n++) {
    CwDrift drift = {0};
    CwMessages words = {0};
    cw_fail_after(n);
    status = cw_drift_by_map(&a, &map, &drift);
    if (status == CW_OK) {
      status = summarise(&drift, &map, &words);
    }
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_true(n < 1000);
    cw_messages_free(&words);
    cw_drift_free(&drift);
  }
  cw_count_line_free(&a);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_same_recording_does_not_drift),
      cmocka_unit_test(a_quicker_recording_is_quicker_by_as_much),
      cmocka_unit_test(a_longer_hold_does_not_slow_the_phrase_before_it),
      cmocka_unit_test(what_is_cut_is_not_present_and_is_said),
      cmocka_unit_test(the_summary_ends_whatever_the_last_phrase),
      cmocka_unit_test(lines_made_apart_are_compared_phrase_by_phrase),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
