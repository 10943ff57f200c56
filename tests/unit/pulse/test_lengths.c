// SPDX-License-Identifier: GPL-3.0-or-later
/// How long what begins lasts, of onset strengths that are set by hand.
#include "unit/cw_test.h"

#include <string.h>

#include "pulse/lengths.h"

enum { N = 4000 };

/// Curves of one trial.
typedef struct {
  float strength[N], length[N], work[2][N];
} Trial;

static const float *measure(Trial *trial)
{
  float *const work[2] = {trial->work[0], trial->work[1]};
  cw_lengths(trial->strength, N, trial->length, work);
  return trial->length;
}

/// Attacks of strength 1 at lengths that alternate, from frame 50 on.
static const float *alternate(Trial *trial, size_t first, size_t second)
{
  memset(trial, 0, sizeof *trial);
  for (size_t i = 50; i < N; i += first + second) {
    trial->strength[i] = 1.0F;
    if (i + first < N) {
      trial->strength[i + first] = 1.0F;
    }
  }
  return measure(trial);
}

static void even_attacks_are_neither_long_nor_short(void **state)
{
  (void)state;
  static Trial trial;
  const float *length = alternate(&trial, 40, 40);
  for (size_t i = 0; i + 1000 < N; i++) { // the last lasts long, and the mean reaches to it
    assert_float_equal(length[i], 0.0F, 1e-4);
  }
}

static void long_notes_stand_out_from_short_ones(void **state)
{
  (void)state;
  static Trial trial;
  const float *length = alternate(&trial, 60, 20);
  for (size_t i = 50; i + 1000 < N; i += 80) {
    // half of ln 3 on each side of the mean; the ends of the window may hold one more of either
    assert_float_equal(length[i], 0.549F, 0.08);
    assert_float_equal(length[i + 60], -0.549F, 0.08);
  }
}

static void lengths_are_the_same_at_half_the_tempo(void **state)
{
  (void)state;
  static Trial slow, quick;
  alternate(&slow, 120, 40);
  alternate(&quick, 60, 20);
  assert_float_equal(slow.length[50 + 5 * 160], quick.length[50 + 10 * 80], 0.05);
}

static void weak_attacks_end_nothing(void **state)
{
  (void)state;
  static Trial trial;
  alternate(&trial, 60, 20);
  const float before = trial.length[50 + 10 * 80];
  for (size_t i = 80; i < N; i += 80) {
    trial.strength[i] = 0.3F;
  }
  assert_float_equal(measure(&trial)[50 + 10 * 80], before, 0.1);
}

static void nothing_is_said_where_nothing_begins(void **state)
{
  (void)state;
  static Trial trial;
  const float *length = alternate(&trial, 60, 20);
  assert_float_equal(length[50 + 30], 0.0F, 1e-6);
  memset(&trial, 0, sizeof trial);
  length = measure(&trial);
  for (size_t i = 0; i < N; i++) {
    assert_float_equal(length[i], 0.0F, 1e-6);
  }
}

static void lengths_stay_within_bounds(void **state)
{
  (void)state;
  static Trial trial;
  memset(&trial, 0, sizeof trial);
  for (size_t i = 20; i < 600; i += 8) {
    trial.strength[i] = 1.6F;
  }
  trial.strength[700] = 1.6F; // and then nothing
  const float *length = measure(&trial);
  assert_float_equal(length[700], 1.5F, 1e-4);
  for (size_t i = 0; i < N; i++) {
    assert_in_range((int)(length[i] * 1000 + 2000), 500, 3500);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(even_attacks_are_neither_long_nor_short), cmocka_unit_test(long_notes_stand_out_from_short_ones),
      cmocka_unit_test(lengths_are_the_same_at_half_the_tempo),  cmocka_unit_test(weak_attacks_end_nothing),
      cmocka_unit_test(nothing_is_said_where_nothing_begins),    cmocka_unit_test(lengths_stay_within_bounds),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
