// SPDX-License-Identifier: GPL-3.0-or-later
/// Scores against those of mir_eval 0.7: tests/vectors/eval/scores.json, made by make_scores.py beside it.
#include "unit/cw_test.h"

#include <jansson.h>
#include <stdlib.h>

#include "eval/scores.h"

enum { MOST = 1024, LEAST_CASES = 200 };

static json_t *read_cases(void)
{
  json_t *cases = json_load_file(CW_VECTORS "/eval/scores.json", 0, NULL);
  assert_non_null(cases);
  assert_true(json_array_size(cases) >= LEAST_CASES);
  return cases;
}

static CwTimes times_of(json_t *array, double room[MOST])
{
  const size_t n = json_array_size(array);
  assert_true(n <= MOST);
  for (size_t i = 0; i < n; i++) {
    room[i] = json_number_value(json_array_get(array, i));
  }
  return (CwTimes){room, n};
}

/// Whether a score is that of the case; says so if not. What the case does not state is taken as `otherwise`.
static bool agrees(json_t *one, const char *key, double score, double otherwise)
{
  json_t *stated = json_object_get(one, key);
  assert_non_null(stated);
  const double wanted = json_is_null(stated) ? otherwise : json_number_value(stated);
  if (isnan(wanted) || fabs(score - wanted) <= 1e-6) {
    return true;
  }
  print_error("%s, from %g s: %s is %.9f, by mir_eval %.9f\n", json_string_value(json_object_get(one, "name")),
              json_number_value(json_object_get(one, "trim")), key, score, wanted);
  return false;
}

static bool case_agrees(json_t *one)
{
  double true_room[MOST], found_room[MOST];
  const double trim_s = json_number_value(json_object_get(one, "trim"));
  const CwTimes truth = cw_eval_trim(times_of(json_object_get(one, "truth"), true_room), trim_s);
  const CwTimes found = cw_eval_trim(times_of(json_object_get(one, "found"), found_room), trim_s);
  CwBeatScores scores;
  assert_int_equal(cw_eval_beats(truth, found, &scores), CW_OK);
  const struct {
    const char *key;
    double score, otherwise;
  } score[] = {
      {"pairs", (double)scores.hits.n_hit, NAN},
      {"f", scores.hits.f, NAN},
      {"cemgil", scores.cemgil, NAN},
      {"cemgil_best", scores.cemgil_best, NAN},
      {"p", scores.p_score, 0}, // mir_eval ends with an error there
      {"cml_c", scores.continuity.cml_c, NAN},
      {"cml_t", scores.continuity.cml_t, NAN},
      {"aml_c", scores.continuity.aml_c, NAN},
      {"aml_t", scores.continuity.aml_t, NAN},
      {"offset", scores.hits.mean_offset_s, NAN},
      {"error", scores.hits.mean_error_s, NAN},
      {"worst", scores.hits.worst_error_s, NAN},
  };
  bool good = true;
  for (size_t i = 0; i < sizeof score / sizeof score[0]; i++) {
    good = agrees(one, score[i].key, score[i].score, score[i].otherwise) && good;
  }
  return good;
}

static void every_score_is_that_of_mir_eval(void **state)
{
  (void)state;
  json_t *cases = read_cases();
  size_t wrong = 0;
  for (size_t i = 0; i < json_array_size(cases); i++) {
    wrong += !case_agrees(json_array_get(cases, i));
  }
  json_decref(cases);
  assert_int_equal(wrong, 0);
}

/// Vectors that are all 0 or all 1 would not tell much.
static void the_cases_are_of_many_kinds(void **state)
{
  (void)state;
  static const char *const key[] = {"f", "cemgil", "cemgil_best", "p", "cml_c", "cml_t", "aml_c", "aml_t"};
  json_t *cases = read_cases();
  for (size_t k = 0; k < sizeof key / sizeof key[0]; k++) {
    size_t zero = 0, one = 0, between = 0;
    for (size_t i = 0; i < json_array_size(cases); i++) {
      const double value = json_number_value(json_object_get(json_array_get(cases, i), key[k]));
      zero += value == 0;
      one += value == 1;
      between += value > 0 && value < 1;
    }
    assert_true(zero >= 10 && one >= 10 && between >= 100);
  }
  json_decref(cases);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_score_is_that_of_mir_eval),
      cmocka_unit_test(the_cases_are_of_many_kinds),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
