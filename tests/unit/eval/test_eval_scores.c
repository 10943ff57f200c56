// SPDX-License-Identifier: GPL-3.0-or-later
/// Scores of cases worked by hand, and what scores must not change under.
#include "unit/cw_test.h"

#include "base/memory.h"
#include "eval/scores.h"

enum { MOST = 64 };

/// Times made for a test.
typedef struct {
  double time_s[MOST];
  size_t n;
} Made;

static Made evenly(double first_s, double interval_s, size_t n)
{
  Made made = {.n = n};
  for (size_t i = 0; i < n; i++) {
    made.time_s[i] = first_s + interval_s * (double)i;
  }
  return made;
}

static Made without(Made made, size_t at)
{
  made.n--;
  for (size_t i = at; i < made.n; i++) {
    made.time_s[i] = made.time_s[i + 1];
  }
  return made;
}

static Made with(Made made, size_t at, double time_s)
{
  for (size_t i = made.n++; i > at; i--) {
    made.time_s[i] = made.time_s[i - 1];
  }
  made.time_s[at] = time_s;
  return made;
}

static CwTimes times(const Made *made)
{
  return (CwTimes){made->time_s, made->n};
}

static CwBeatScores score(Made truth, Made found)
{
  CwBeatScores scores;
  assert_int_equal(cw_eval_beats(times(&truth), times(&found), &scores), CW_OK);
  return scores;
}

/// A table computed with mir_eval 0.7 beforehand, to six decimals: reference 5.5, 6.0 ... 10.0.
static void the_worked_table_comes_out(void **state)
{
  (void)state;
  const Made truth = evenly(5.5, 0.5, 10);
  const struct {
    Made found;
    double f, cemgil, p, cml_c, cml_t, aml_c, aml_t;
  } row[] = {
      {evenly(5.55, 0.5, 10), 1, 0.457833, 1, 1, 1, 1, 1},
      {evenly(5.569, 0.5, 10), 1, 0.225866, 1, 1, 1, 1, 1},
      {evenly(5.571, 0.5, 10), 0, 0.206943, 1, 1, 1, 1, 1},
      {evenly(5.75, 0.5, 9), 0, 0, 0, 0, 0, 1, 1},
      {evenly(5.5, 0.25, 19), 0.689655, 0.689655, 0.526316, 0, 0, 1, 1},
      {evenly(5.5, 1, 5), 0.666667, 0.666667, 0.5, 0, 0, 1, 1},
      {without(truth, 4), 0.947368, 0.947368, 0.9, 0.4, 0.8, 0.4, 0.8},
      {with(truth, 5, 7.75), 0.952381, 0.952381, 0.909091, 0.454545, 0.818182, 0.454545, 0.818182},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const CwBeatScores scores = score(truth, row[i].found);
    assert_near(scores.hits.f, row[i].f, 1e-6);
    assert_near(scores.cemgil, row[i].cemgil, 1e-6);
    assert_near(scores.p_score, row[i].p, 1e-6);
    assert_near(scores.continuity.cml_c, row[i].cml_c, 1e-6);
    assert_near(scores.continuity.cml_t, row[i].cml_t, 1e-6);
    assert_near(scores.continuity.aml_c, row[i].aml_c, 1e-6);
    assert_near(scores.continuity.aml_t, row[i].aml_t, 1e-6);
  }
}

/// Tempo accuracy by its definition in Gouyon et al. 2006: within 4 % of the true tempo; of 2, 3, 1/2, 1/3 of it too.
static void tempo_is_right_within_four_percent_and_perhaps_by_two_and_three(void **state)
{
  (void)state;
  const Made truth = evenly(6, 0.5, 20); // 120 a minute
  const struct {
    double per_min;
    bool within, within_any;
  } row[] = {{120, true, true},     {124.7, true, true}, {115.3, true, true},  {124.9, false, false},
             {115.1, false, false}, {240, false, true},  {249.5, false, true}, {249.7, false, false},
             {360, false, true},    {60, false, true},   {62.3, false, true},  {62.5, false, false},
             {40, false, true},     {41.5, false, true}, {41.7, false, false}, {180, false, false},
             {80, false, false},    {30, false, false},  {480, false, false}};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const CwTempoScore tempo = score(truth, evenly(6, 60 / row[i].per_min, 20)).tempo;
    assert_near(tempo.true_per_min, 120, 1e-9);
    assert_near(tempo.found_per_min, row[i].per_min, 1e-9);
    assert_int_equal(tempo.within, row[i].within);
    assert_int_equal(tempo.within_any, row[i].within_any);
  }
}

static void tempo_is_that_of_the_median_interval(void **state)
{
  (void)state;
  const Made found = {.time_s = {6, 6.5, 7.0, 8.0, 8.6, 9.0}, .n = 6}; // intervals 0.5 0.5 1.0 0.6 0.4
  assert_near(score(found, found).tempo.found_per_min, 120, 1e-9);
  assert_near(score(without(found, 5), found).tempo.true_per_min, 60 / 0.55, 1e-9); // 0.5 0.5 0.6 1.0
}

static void a_list_without_intervals_has_no_tempo(void **state)
{
  (void)state;
  const Made truth = evenly(6, 0.5, 20);
  const CwTempoScore few = score(truth, evenly(6, 0.5, 1)).tempo;
  assert_true(isnan(few.found_per_min) && !few.within && !few.within_any);
  const CwTempoScore same = score(evenly(6, 0, 5), truth).tempo;
  assert_true(isnan(same.true_per_min) && !same.within && !same.within_any);
}

static void offsets_are_those_of_what_is_within_the_window(void **state)
{
  (void)state;
  const Made truth = {.time_s = {6, 7, 8, 9}, .n = 4};
  const Made found = {.time_s = {6.01, 6.5, 6.97, 8.2, 9.02}, .n = 5};
  const CwHits hits = score(truth, found).hits;
  assert_int_equal(hits.n_true, 4);
  assert_int_equal(hits.n_found, 5);
  assert_int_equal(hits.n_hit, 3);
  assert_near(hits.precision, 0.6, 1e-12);
  assert_near(hits.recall, 0.75, 1e-12);
  assert_near(hits.mean_offset_s, 0, 1e-12);
  assert_near(hits.mean_error_s, 0.02, 1e-12);
  assert_near(hits.worst_error_s, 0.03, 1e-12);
}

static void without_pairs_there_is_no_offset(void **state)
{
  (void)state;
  const CwHits hits = score(evenly(6, 0.5, 4), evenly(6.2, 0.5, 4)).hits;
  assert_true(isnan(hits.mean_offset_s) && isnan(hits.mean_error_s) && isnan(hits.worst_error_s));
}

static void trimming_keeps_what_is_at_its_time(void **state)
{
  (void)state;
  const Made made = {.time_s = {4.9, 4.999, 5, 5, 5.1}, .n = 5};
  const CwTimes kept = cw_eval_trim(times(&made), 5);
  assert_int_equal(kept.n, 3);
  assert_near(kept.time_s[0], 5, 0);
  assert_int_equal(cw_eval_trim(times(&made), 0).n, 5);
  assert_int_equal(cw_eval_trim(times(&made), 9).n, 0);
}

static void assert_same(const CwBeatScores *a, const CwBeatScores *b)
{
  assert_near(a->hits.f, b->hits.f, 1e-9);
  assert_near(a->hits.mean_error_s, b->hits.mean_error_s, 1e-9);
  assert_near(a->cemgil, b->cemgil, 1e-9);
  assert_near(a->cemgil_best, b->cemgil_best, 1e-9);
  assert_near(a->p_score, b->p_score, 1e-9);
  assert_near(a->continuity.cml_c, b->continuity.cml_c, 1e-9);
  assert_near(a->continuity.cml_t, b->continuity.cml_t, 1e-9);
  assert_near(a->continuity.aml_c, b->continuity.aml_c, 1e-9);
  assert_near(a->continuity.aml_t, b->continuity.aml_t, 1e-9);
}

static void a_silence_before_both_changes_no_score(void **state)
{
  (void)state;
  const Made truth = without(evenly(6, 0.5, 20), 7);
  const Made found = with(evenly(6.03, 0.5, 20), 3, 7.2);
  Made later_truth = truth, later_found = found;
  for (size_t i = 0; i < MOST; i++) {
    later_truth.time_s[i] += 16; // exact in binary
    later_found.time_s[i] += 16;
  }
  const CwBeatScores scores = score(truth, found), later = score(later_truth, later_found);
  assert_same(&scores, &later);
}

static void memory_that_runs_out_is_reported(void **state)
{
  (void)state;
  const Made truth = evenly(6, 0.5, 20);
  CwBeatScores scores;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; n < 100 && status != CW_OK; n++) {
    cw_fail_after(n);
    status = cw_eval_beats(times(&truth), times(&truth), &scores);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 4);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_worked_table_comes_out),
      cmocka_unit_test(tempo_is_right_within_four_percent_and_perhaps_by_two_and_three),
      cmocka_unit_test(tempo_is_that_of_the_median_interval),
      cmocka_unit_test(a_list_without_intervals_has_no_tempo),
      cmocka_unit_test(offsets_are_those_of_what_is_within_the_window),
      cmocka_unit_test(without_pairs_there_is_no_offset),
      cmocka_unit_test(trimming_keeps_what_is_at_its_time),
      cmocka_unit_test(a_silence_before_both_changes_no_score),
      cmocka_unit_test(memory_that_runs_out_is_reported),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
