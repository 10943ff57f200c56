// SPDX-License-Identifier: GPL-3.0-or-later
/// The decoding against the same model worked out plainly, and against every path there is.
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "pulse/decode.h"
#include "unit/pulse/activations.h"
#include "unit/pulse/plain_model.h"
#include "unit/random.h"

static CwBeats decode(const PlainTask *task)
{
  CwBeats beats;
  assert_int_equal(cw_decode(task->activation, &task->model, task->pin, task->n_pins, NULL, &beats), CW_OK);
  return beats;
}

/// What was found must be worth what the best path is worth. The decoding adds up floats, hence the tolerance.
static size_t assert_best(const PlainTask *task, double best, double tolerance)
{
  CwBeats beats = decode(task);
  assert_near(plain_score_of(task, &beats), best, tolerance);
  const size_t n = beats.n;
  cw_beats_free(&beats);
  return n;
}

static void the_plain_model_finds_the_best_of_all_paths(void **state)
{
  (void)state;
  uint64_t seed = 11;
  for (int k = 0; k < 40; k++) {
    // within one run, bars of every metre
    CwModel model = model_random(8, 10, &seed);
    model.enter_cost *= 0.3;
    CwActivation a = activation_random(24 + random_below(&seed, 12), 8, 10, 2.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    const double best = plain_best_score_of_all(&task);
    assert_near(plain_best_score(&task), best, 1e-9);
    assert_best(&task, best, 1e-4);
    cw_activation_free(&a);
  }
}

static void runs_with_quiet_between_them_are_the_best_of_all(void **state)
{
  (void)state;
  uint64_t seed = 12;
  size_t with_quiet = 0;
  for (int k = 0; k < 12; k++) {
    CwModel model = model_random(58, 60, &seed);
    model.metre = 2;
    model.enter_cost = 0.5;
    CwActivation a = activation_random(150, 58, 60, 2.0, &seed);
    for (size_t t = 40; t < 110; t++) {
      a.beat[t] = CW_NO_BEAT;
    }
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    const double best = plain_best_score_of_all(&task);
    assert_near(plain_best_score(&task), best, 1e-9);
    assert_best(&task, best, 1e-4);
    CwBeats beats = decode(&task);
    for (size_t i = 1; i < beats.n; i++) {
      with_quiet += beats.beat[i].run_start;
    }
    cw_beats_free(&beats);
    cw_activation_free(&a);
  }
  assert_true(with_quiet > 4); // or nothing was tested
}

static void random_activations_are_decoded_to_the_best_path(void **state)
{
  (void)state;
  uint64_t seed = 13;
  size_t n_beats = 0;
  for (int k = 0; k < 200; k++) {
    const CwModel model = model_random(8, 10, &seed);
    CwActivation a = activation_random(60 + random_below(&seed, 300), 8, 10, 2.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    n_beats += assert_best(&task, plain_best_score(&task), 1e-3);
    cw_activation_free(&a);
  }
  assert_true(n_beats > 1000);
}

static void many_intervals_are_decoded_to_the_best_path(void **state)
{
  (void)state;
  uint64_t seed = 14;
  for (int k = 0; k < 4; k++) {
    const CwModel model = model_random(20, 90, &seed);
    CwActivation a = activation_random(300, 20, 90, 2.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    assert_true(task.grid.n > 50);
    assert_best(&task, plain_best_score(&task), 1e-3);
    cw_activation_free(&a);
  }
}

/// Where the path is settled block by block (60 s, looking 25 s ahead), it must still be the best one as a whole.
static void long_activations_are_decoded_to_the_best_path(void **state)
{
  (void)state;
  uint64_t seed = 15;
  static const size_t length[] = {8499, 8500, 8501, 14500, 16000};
  for (size_t k = 0; k < sizeof length / sizeof length[0]; k++) {
    CwModel model = model_random(28, 30, &seed);
    model.metre = k % 2 ? 3 : 0;
    CwActivation a = activation_random(length[k], 28, 30, 2.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    const double best = plain_best_score(&task);
    assert_true(best > 50.0);
    assert_best(&task, best, 1e-5 * best + 1e-3);
    cw_activation_free(&a);
  }
}

/// Pins by chance, at least `gap` frames apart.
static size_t make_pins(CwBeatPin *pin, size_t most, size_t gap, size_t n_frames, uint64_t *seed)
{
  size_t n = 0;
  for (size_t t = random_below(seed, 60); n < most && t < n_frames; t += gap + random_below(seed, 5 * gap)) {
    pin[n++] = (CwBeatPin){(double)t / CW_FEATURE_RATE_HZ, random_below(seed, 3) == 0};
  }
  return n;
}

/// Pins that no path can obey all of, too: nearer to each other than any interval, or firsts where no bar fits.
static void the_best_path_through_the_pins_is_found(void **state)
{
  (void)state;
  uint64_t seed = 16;
  for (int k = 0; k < 90; k++) {
    CwBeatPin pin[8];
    const CwModel model = model_random(8, 11, &seed);
    CwActivation a = activation_random(150 + random_below(&seed, 250), 8, 11, 2.0, &seed);
    const size_t n_pins = make_pins(pin, 8, k % 3 ? 40 : 3, a.n, &seed);
    const PlainTask task = plain_task(&a, &model, pin, n_pins);
    assert_best(&task, plain_best_score(&task), 1e-3);
    cw_activation_free(&a);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_plain_model_finds_the_best_of_all_paths),
      cmocka_unit_test(runs_with_quiet_between_them_are_the_best_of_all),
      cmocka_unit_test(random_activations_are_decoded_to_the_best_path),
      cmocka_unit_test(many_intervals_are_decoded_to_the_best_path),
      cmocka_unit_test(long_activations_are_decoded_to_the_best_path),
      cmocka_unit_test(the_best_path_through_the_pins_is_found),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
