// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "pulse/join_bars.h"
#include "unit/random.h"

enum { N_BEATS = 120, INTERVAL = 50 };

/// Beats in bars of two or three, and the accents they were found by.
typedef struct {
  CwBeat beat[N_BEATS];
  float accent[N_BEATS * INTERVAL];
  CwBeats beats;
  CwActivation activation;
} Piece;

/// `pick_up` beats come before the first bar. Bars alternate by `difference`; all accents are unsure by `spread`.
static void piece_make(Piece *piece, unsigned metre, size_t pick_up, double difference, double spread)
{
  uint64_t seed = 31;
  piece->beats = (CwBeats){piece->beat, N_BEATS, metre, 120};
  piece->activation = (CwActivation){NULL, piece->accent, NULL, N_BEATS * INTERVAL};
  for (size_t i = 0; i < N_BEATS; i++) {
    const size_t place = (i + 10 * metre - pick_up) % metre;
    const size_t bar = (i + 10 * metre - pick_up) / metre;
    piece->beat[i] = (CwBeat){(double)(i * INTERVAL) / CW_FEATURE_RATE_HZ, (unsigned)place + 1, metre, 1, i == 0};
    const double usual = place > 0 ? 0.0 : bar % 2 == 0 ? 0.5 + difference : 0.5;
    piece->accent[i * INTERVAL] = (float)(usual + random_between(&seed, -spread, spread));
  }
}

/// All beats from `from` on are in bars of `metre`, and the beat `first` is the first of its bar.
static void assert_bars(const Piece *piece, size_t from, size_t to, unsigned metre, size_t first)
{
  for (size_t i = from; i < to; i++) {
    assert_int_equal(piece->beat[i].metre, metre);
    assert_int_equal(piece->beat[i].position, (i + 10 * metre - first) % metre + 1);
  }
}

static void bars_that_alternate_plainly_are_joined(void **state)
{
  (void)state;
  static Piece piece;
  for (unsigned metre = 2; metre <= 3; metre++) {
    // strong bars first, then weak bars first
    piece_make(&piece, metre, 0, 1.5, 0.3);
    cw_join_bars(&piece.activation, 0, &piece.beats);
    assert_bars(&piece, 0, N_BEATS, 2 * metre, 0);
    piece_make(&piece, metre, 0, -1.5, 0.3);
    cw_join_bars(&piece.activation, 0, &piece.beats);
    assert_bars(&piece, 0, N_BEATS, 2 * metre, metre);
  }
}

static void bars_that_do_not_are_left_alone(void **state)
{
  (void)state;
  static Piece piece;
  piece_make(&piece, 2, 0, 0.0, 0.3); // all alike
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 2, 0);
  piece_make(&piece, 2, 0, 0.5, 0.1); // too little, however sure
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 2, 0);
  piece_make(&piece, 2, 0, 0.9, 4.0); // too unsure
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 2, 0);
  piece_make(&piece, 4, 0, 1.5, 0.1); // bars of four are whole
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 4, 0);
}

static void a_metre_that_is_known_is_kept(void **state)
{
  (void)state;
  static Piece piece;
  piece_make(&piece, 2, 0, 1.5, 0.3);
  cw_join_bars(&piece.activation, 2, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 2, 0);
  cw_join_bars(&piece.activation, 4, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 4, 0);
  piece_make(&piece, 3, 0, 1.5, 0.3);
  cw_join_bars(&piece.activation, 3, &piece.beats);
  assert_bars(&piece, 0, N_BEATS, 3, 0);
}

static void few_bars_are_not_enough_to_tell(void **state)
{
  (void)state;
  static Piece piece;
  piece_make(&piece, 2, 0, 1.5, 0.1);
  piece.beats.n = 14;
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, 14, 2, 0);
  piece.beats.n = 0;
  cw_join_bars(&piece.activation, 0, &piece.beats);
  piece.beats.n = 1;
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, 1, 2, 0);
}

static void every_run_is_joined_by_itself(void **state)
{
  (void)state;
  static Piece piece;
  piece_make(&piece, 2, 0, 1.5, 0.3);
  for (size_t i = 60; i < N_BEATS; i++) { // a second run, whose weak bars come first
    const size_t of_bar = i % 4;
    piece.accent[i * INTERVAL] = of_bar == 2 ? 2.0F : of_bar == 0 ? 0.5F : 0.0F;
  }
  piece.beat[60].run_start = true;
  cw_join_bars(&piece.activation, 0, &piece.beats);
  assert_bars(&piece, 0, 60, 4, 0);
  assert_bars(&piece, 60, N_BEATS, 4, 62);
}

static void the_beats_before_the_first_bar_join_it(void **state)
{
  (void)state;
  static Piece piece;
  for (int weak_first = 0; weak_first < 2; weak_first++) {
    piece_make(&piece, 3, 2, weak_first ? -1.5 : 1.5, 0.3);
    cw_join_bars(&piece.activation, 0, &piece.beats);
    assert_bars(&piece, 0, N_BEATS, 6, weak_first ? 5 : 2);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(bars_that_alternate_plainly_are_joined),
      cmocka_unit_test(bars_that_do_not_are_left_alone),
      cmocka_unit_test(a_metre_that_is_known_is_kept),
      cmocka_unit_test(few_bars_are_not_enough_to_tell),
      cmocka_unit_test(every_run_is_joined_by_itself),
      cmocka_unit_test(the_beats_before_the_first_bar_join_it),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
