// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "countwright/phrases.h"
#include "phrase/boundaries.h"

enum { N_COUNTS = 48, ROWS_A_COUNT = 6, ROWS = 30 + N_COUNTS * ROWS_A_COUNT };

/// A recording whose harmony and timbre are set row by row, ten a second, and its counts: one each 0.6 s from 3 s on.
typedef struct {
  float chroma[ROWS * 12], timbre[ROWS * CW_TIMBRE_BANDS];
  CwCount count[N_COUNTS];
  CwFeatures features;
} Piece;

/// Every `length` counts another note is held, and where `timbre` is set another sound; a drone sounds throughout.
static void make_piece(Piece *p, size_t length, float drone, bool timbre)
{
  *p = (Piece){.features = {.n_slow = ROWS, .chroma = p->chroma, .timbre = p->timbre, .duration_s = ROWS / 10.0}};
  for (size_t i = 0; i < ROWS; i++) {
    const size_t part = i < 30 ? 0 : (i - 30) / ROWS_A_COUNT / length;
    p->chroma[i * 12] = drone;
    p->chroma[i * 12 + (timbre ? 5 : 1 + part * 7 % 11)] += 1;
    for (size_t k = 0; k < CW_TIMBRE_BANDS; k++) {
      p->timbre[i * CW_TIMBRE_BANDS + k] = (timbre && k < 4 ? 1.0F + (float)(part % 2) : 1.0F) * (1.0F + drone);
    }
  }
  for (size_t i = 0; i < N_COUNTS; i++) {
    const double time_s = 3.0 + 0.6 * (double)i;
    p->count[i] = (CwCount){time_s, time_s + 0.6, i % 2 == 0, i == 0, 1};
  }
}

/// Novelty stands out where a part begins, and nowhere else does it come near.
static void assert_parts(const double *novelty, size_t length)
{
  double mean = 0;
  double square = 0;
  for (size_t i = 0; i < N_COUNTS; i++) {
    mean += novelty[i] / N_COUNTS;
    square += novelty[i] * novelty[i] / N_COUNTS;
    const bool begins = i > 0 && i % length == 0;
    const bool beside = i > 0 && (i % length == 1 || i % length == length - 1);
    assert_true(begins ? novelty[i] > 0.9 : beside || novelty[i] < 0.9);
    assert_true(!begins || (novelty[i] > novelty[i - 1] + 0.2 && novelty[i] > novelty[i + 1] + 0.2));
  }
  assert_near(mean, 0, 1e-9);
  assert_near(square, 1, 1e-9);
}

static void novelty_stands_out_where_harmony_or_timbre_changes(void **state)
{
  (void)state;
  static Piece p;
  double novelty[N_COUNTS];
  for (size_t length = 6; length <= 8; length += 2) {
    for (int timbre = 0; timbre < 2; timbre++) {
      make_piece(&p, length, 0, timbre);
      assert_int_equal(cw_boundaries_measure(&p.features, p.count, N_COUNTS, novelty), CW_OK);
      assert_parts(novelty, length);
    }
  }
}

static void a_change_in_the_middle_of_a_count_is_as_near_to_both_its_ends(void **state)
{
  (void)state;
  static Piece p;
  double novelty[N_COUNTS];
  make_piece(&p, 8, 0, false);
  for (size_t i = 0; i < N_COUNTS; i++) {
    p.count[i].time_s -= 0.3;
    p.count[i].end_s -= 0.3;
  }
  assert_int_equal(cw_boundaries_measure(&p.features, p.count, N_COUNTS, novelty), CW_OK);
  for (size_t i = 16; i < N_COUNTS - 8; i += 8) {
    assert_near(novelty[i], novelty[i + 1], 0.2);
    assert_true(novelty[i] > novelty[i - 1] + 0.2 && novelty[i + 1] > novelty[i + 2] + 0.2);
  }
}

static void what_sounds_all_the_time_does_not_matter(void **state)
{
  (void)state;
  static Piece p;
  double plain[N_COUNTS];
  double novelty[N_COUNTS];
  make_piece(&p, 8, 0, false);
  assert_int_equal(cw_boundaries_measure(&p.features, p.count, N_COUNTS, plain), CW_OK);
  make_piece(&p, 8, 5, false);
  assert_int_equal(cw_boundaries_measure(&p.features, p.count, N_COUNTS, novelty), CW_OK);
  for (size_t i = 0; i < N_COUNTS; i++) {
    assert_near(novelty[i], plain[i], 1e-3);
  }
}

static void counts_beyond_the_recording_and_counts_of_no_length_are_safe(void **state)
{
  (void)state;
  static Piece p;
  double novelty[N_COUNTS];
  make_piece(&p, 8, 1, false);
  p.features.n_slow = 100;
  p.count[3].time_s = p.count[3].end_s = -2.0;
  p.count[4].end_s = p.count[4].time_s + 0.01;
  assert_int_equal(cw_boundaries_measure(&p.features, p.count, N_COUNTS, novelty), CW_OK);
  for (size_t i = 0; i < N_COUNTS; i++) {
    assert_true(isfinite(novelty[i]));
  }
  p.features.n_slow = 0; // nothing is known: nothing stands out
  assert_int_equal(cw_boundaries_measure(&p.features, p.count, N_COUNTS, novelty), CW_OK);
  for (size_t i = 0; i < N_COUNTS; i++) {
    assert_near(novelty[i], 0, 1e-9);
  }
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  static Piece p;
  double novelty[N_COUNTS];
  make_piece(&p, 8, 0, false);
  cw_fail_after(0);
  const CwStatus status = cw_boundaries_measure(&p.features, p.count, N_COUNTS, novelty);
  cw_fail_after(-1);
  assert_int_equal(status, CW_ERR_NO_MEM);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(novelty_stands_out_where_harmony_or_timbre_changes),
      cmocka_unit_test(a_change_in_the_middle_of_a_count_is_as_near_to_both_its_ends),
      cmocka_unit_test(what_sounds_all_the_time_does_not_matter),
      cmocka_unit_test(counts_beyond_the_recording_and_counts_of_no_length_are_safe),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
