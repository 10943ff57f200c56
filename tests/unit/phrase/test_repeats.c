// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "phrase/repeats.h"
#include "unit/random.h"

enum { PHRASE = 8, SECTION = 2 * PHRASE, N_COUNTS = PHRASE + 4 * SECTION, ROWS = N_COUNTS * 5 };

/// Counts of half a second, each with a note of its own.
typedef struct {
  float chroma[ROWS * 12], timbre[ROWS * CW_TIMBRE_BANDS];
  CwCount count[N_COUNTS];
  CwFeatures features;
} Piece;

/// Notes by chance; where `again` is set, the section after the first phrase comes again two sections later.
static void make_piece(Piece *p, bool again)
{
  *p = (Piece){.features = {.n_slow = ROWS, .chroma = p->chroma, .timbre = p->timbre, .duration_s = ROWS / 10.0}};
  uint64_t seed = 71;
  size_t note[N_COUNTS];
  for (size_t i = 0; i < N_COUNTS; i++) {
    const bool repeated = again && i >= PHRASE + 2 * SECTION && i < PHRASE + 3 * SECTION;
    note[i] = repeated ? note[i - (size_t)2 * SECTION] : random_below(&seed, 12);
    p->count[i] = (CwCount){0.5 * (double)i, 0.5 * (double)(i + 1), i % 4 == 0, i == 0, 1};
  }
  for (size_t row = 0; row < ROWS; row++) {
    p->chroma[row * 12 + note[row / 5]] = 1;
  }
}

static void a_section_that_comes_again_has_edges_both_times(void **state)
{
  (void)state;
  static Piece p;
  double edge[N_COUNTS];
  make_piece(&p, true);
  assert_int_equal(cw_repeats_measure(&p.features, p.count, N_COUNTS, PHRASE, edge), CW_OK);
  for (size_t i = PHRASE; i < N_COUNTS; i += SECTION) {
    assert_true(edge[i] > 1.0);
    for (size_t away = 2; away <= 4; away++) {
      assert_true(edge[i] > edge[i - away] && edge[i] > edge[i + away]);
    }
  }
}

static void what_is_heard_once_has_no_such_edges(void **state)
{
  (void)state;
  static Piece p;
  double again[N_COUNTS];
  double once[N_COUNTS];
  make_piece(&p, true);
  assert_int_equal(cw_repeats_measure(&p.features, p.count, N_COUNTS, PHRASE, again), CW_OK);
  make_piece(&p, false);
  assert_int_equal(cw_repeats_measure(&p.features, p.count, N_COUNTS, PHRASE, once), CW_OK);
  double sum_again = 0;
  double sum_once = 0;
  for (size_t i = PHRASE; i < N_COUNTS; i += SECTION) {
    sum_again += again[i];
    sum_once += once[i];
  }
  assert_true(sum_once < 0.5 * sum_again);
}

static void music_too_short_to_come_again_tells_nothing(void **state)
{
  (void)state;
  static Piece p;
  double edge[N_COUNTS];
  make_piece(&p, true);
  for (size_t n = 1; n < (size_t)4 * PHRASE; n++) {
    assert_int_equal(cw_repeats_measure(&p.features, p.count, n, PHRASE, edge), CW_OK);
    for (size_t i = 0; i < n; i++) {
      assert_near(edge[i], 0, 1e-12);
    }
  }
  assert_int_equal(cw_repeats_measure(&p.features, p.count, N_COUNTS, 999, edge), CW_OK);
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  static Piece p;
  double edge[N_COUNTS];
  make_piece(&p, true);
  for (long n = 0; n < 2; n++) {
    cw_fail_after(n);
    const CwStatus status = cw_repeats_measure(&p.features, p.count, N_COUNTS, PHRASE, edge);
    cw_fail_after(-1);
    assert_int_equal(status, CW_ERR_NO_MEM);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_section_that_comes_again_has_edges_both_times),
      cmocka_unit_test(what_is_heard_once_has_no_such_edges),
      cmocka_unit_test(music_too_short_to_come_again_tells_nothing),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
