// SPDX-License-Identifier: GPL-3.0-or-later
/// The probability of beats against plain sums in logs, and against sums over every path there is.
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "pulse/posterior.h"
#include "unit/pulse/activations.h"
#include "unit/pulse/plain_model.h"
#include "unit/random.h"

static float *posterior(const PlainTask *task)
{
  float *probability = NULL;
  assert_int_equal(cw_posterior(task->activation, &task->model, &probability), CW_OK);
  return probability;
}

/// Hold both against each other, frame by frame. @return The expected number of beats.
static double assert_probability(const PlainTask *task, const double *wanted, double tolerance)
{
  float *probability = posterior(task);
  double sum = 0;
  for (size_t t = 0; t < task->activation->n; t++) {
    assert_near((double)probability[t], wanted[t], tolerance);
    sum += wanted[t];
  }
  free(probability);
  return sum;
}

static void the_sums_are_those_over_all_paths(void **state)
{
  (void)state;
  uint64_t seed = 21;
  double beats = 0;
  for (int k = 0; k < 30; k++) {
    // one run of some beats, or two of few
    const size_t shortest = k % 2 ? 8 : 58;
    const CwModel model = model_random(shortest, shortest + 2, &seed);
    CwActivation a = activation_random(k % 2 ? 60 : 170, shortest, shortest + 2, 6.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    double *plain = plain_posterior(&task);
    double *all = plain_posterior_of_all(&task);
    for (size_t t = 0; t < a.n; t++) {
      assert_near(plain[t], all[t], 1e-9);
    }
    beats += assert_probability(&task, all, 1e-4);
    free(plain);
    free(all);
    cw_activation_free(&a);
  }
  assert_true(beats > 30);
}

static void random_activations_have_the_probability_of_plain_sums(void **state)
{
  (void)state;
  uint64_t seed = 22;
  double beats = 0;
  for (int k = 0; k < 200; k++) {
    const CwModel model = model_random(8, 12, &seed);
    CwActivation a = activation_random(60 + random_below(&seed, 400), 8, 12, 6.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    double *plain = plain_posterior(&task);
    beats += assert_probability(&task, plain, 1e-3);
    free(plain);
    cw_activation_free(&a);
  }
  assert_true(beats > 1000);
}

static void many_intervals_have_the_probability_of_plain_sums(void **state)
{
  (void)state;
  uint64_t seed = 23;
  CwModel model = cw_model_default();
  for (int k = 0; k < 3; k++) {
    CwActivation a = activation_random(1200, 40, 60, 6.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    assert_true(task.grid.n > 100);
    double *plain = plain_posterior(&task);
    assert_probability(&task, plain, 1e-3);
    free(plain);
    cw_activation_free(&a);
    model.likely_bpm *= 1.3;
  }
}

/// Sums are kept for 85 s and settled in blocks of 60 s; at the seams nothing may show.
static void long_activations_have_the_probability_of_plain_sums(void **state)
{
  (void)state;
  uint64_t seed = 24;
  static const size_t length[] = {8499, 8500, 8501, 14499, 14501, 23000};
  for (size_t k = 0; k < sizeof length / sizeof length[0]; k++) {
    const CwModel model = model_random(26, 32, &seed);
    CwActivation a = activation_random(length[k], 26, 32, 6.0, &seed);
    const PlainTask task = plain_task(&a, &model, NULL, 0);
    double *plain = plain_posterior(&task);
    assert_true(assert_probability(&task, plain, 1e-3) > 50);
    free(plain);
    cw_activation_free(&a);
  }
}

/// Minutes of the strongest evidence there is, and of the weakest: sums grow and shrink by e to the ten thousands.
static void strong_evidence_neither_overflows_nor_vanishes(void **state)
{
  (void)state;
  enum { N = 36000, INTERVAL = 50 };
  CwModel model = cw_model_default();
  model.min_bpm = 100.0; // no half and no double tempo
  model.max_bpm = 140.0;
  for (int k = 0; k < 3; k++) {
    CwActivation a = {cw_new(N, sizeof(float)), cw_new(N, sizeof(float)), cw_new(N, sizeof(float)), N};
    assert_true(a.beat && a.downbeat && a.strength);
    for (size_t t = 0; t < N; t++) {
      a.beat[t] = k == 0 ? -6.8F : k == 1 ? 3.4F : t % INTERVAL == 0 ? 3.4F : -6.8F;
    }
    float *probability = NULL;
    assert_int_equal(cw_posterior(&a, &model, &probability), CW_OK);
    for (size_t t = 1000; t < N - 1000; t++) {
      assert_true(probability[t] >= 0.0F && probability[t] <= 1.0F);
      if (k == 0) {
        assert_true(probability[t] < 1e-4F);
      } else if (k == 2) {
        assert_near((double)probability[t], t % INTERVAL == 0 ? 1.0 : 0.0, 0.01);
      } else {
        // every phase alike
        assert_near((double)probability[t], (double)probability[t - 1], 0.1 * (double)probability[t]);
        assert_true(probability[t] > 0.02F);
      }
    }
    free(probability);
    cw_activation_free(&a);
  }
}

static void a_full_memory_and_no_tempo_are_told(void **state)
{
  (void)state;
  uint64_t seed = 25;
  CwActivation a = activation_random(300, 40, 50, 6.0, &seed);
  CwModel model = cw_model_default();
  float *probability = NULL;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 100; n++) {
    cw_fail_after(n);
    status = cw_posterior(&a, &model, &probability);
    cw_fail_after(-1);
    assert_int_equal(probability != NULL, status == CW_OK);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 6);
  free(probability);
  model.min_bpm = 2 * model.max_bpm;
  assert_int_equal(cw_posterior(&a, &model, &probability), CW_ERR_BAD_ARG);
  assert_null(probability);
  cw_activation_free(&a);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_sums_are_those_over_all_paths),
      cmocka_unit_test(random_activations_have_the_probability_of_plain_sums),
      cmocka_unit_test(many_intervals_have_the_probability_of_plain_sums),
      cmocka_unit_test(long_activations_have_the_probability_of_plain_sums),
      cmocka_unit_test(strong_evidence_neither_overflows_nor_vanishes),
      cmocka_unit_test(a_full_memory_and_no_tempo_are_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
