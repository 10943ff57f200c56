// SPDX-License-Identifier: GPL-3.0-or-later
/// Beats and their probabilities as GHMM, a library for hidden Markov models of any kind, finds them in the same model:
/// tests/vectors/pulse/hmm.json, made by make.sh there.
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "base/memory.h"
#include "pulse/decode.h"
#include "pulse/lanes.h"
#include "pulse/posterior.h"

static int set_up(void **state)
{
  *state = json_load_file(CW_VECTORS "/pulse/hmm.json", 0, NULL);
  return *state ? 0 : -1;
}

static int tear_down(void **state)
{
  json_decref(*state);
  return 0;
}

static double number(const json_t *object, const char *key)
{
  const json_t *value = json_object_get(object, key);
  assert_non_null(value);
  return json_number_value(value);
}

static CwModel model_of(const json_t *vector)
{
  CwModel model = cw_model_default();
  model.max_bpm = 60.0 * CW_FEATURE_RATE_HZ / number(vector, "shortest");
  model.min_bpm = 60.0 * CW_FEATURE_RATE_HZ / number(vector, "longest");
  model.likely_bpm = number(vector, "likely_bpm");
  model.tempo_spread = number(vector, "tempo_spread");
  model.tempo_weight = number(vector, "tempo_weight");
  model.change_cost = number(vector, "change_cost");
  model.jump_cost = number(vector, "jump_cost");
  model.enter_cost = number(vector, "enter_cost");
  model.offbeat_weight = model.thirds_weight = number(vector, "offbeat_weight");
  return model;
}

static CwActivation activation_of(const json_t *vector)
{
  const json_t *beat = json_object_get(vector, "beat");
  const size_t n = json_array_size(beat);
  CwActivation a = {cw_new(n, sizeof(float)), cw_new(n, sizeof(float)), cw_new(n, sizeof(float)), n};
  assert_true(n > 0 && a.beat && a.downbeat && a.strength);
  for (size_t t = 0; t < n; t++) {
    a.beat[t] = (float)json_number_value(json_array_get(beat, t));
  }
  return a;
}

static void the_probabilities_are_those_of_another_library(void **state)
{
  size_t i = 0;
  size_t tested = 0;
  const json_t *vector = NULL;
  json_array_foreach(*state, i, vector)
  {
    const json_t *wanted = json_object_get(vector, "probability");
    if (!wanted) {
      continue;
    }
    const CwModel model = model_of(vector);
    CwActivation a = activation_of(vector);
    float *probability = NULL;
    assert_int_equal(json_array_size(wanted), a.n);
    assert_int_equal(cw_posterior(&a, &model, &probability), CW_OK);
    for (size_t t = 0; t < a.n; t++) {
      assert_near((double)probability[t], json_number_value(json_array_get(wanted, t)), 1e-5);
    }
    free(probability);
    cw_activation_free(&a);
    tested++;
  }
  assert_int_equal(tested, 2);
}

/// Let bars make no difference, for there are none in the other library's model: both beats of a bar of two are worth
/// the same with accents half-way between theirs, and what that is worth is taken off again.
static void without_bars(CwModel *model, CwActivation *a)
{
  const float first = cw_lane_accent[0];
  const float second = cw_lane_accent[1];
  assert_near((double)cw_metre_rarity[0], 0, 0);
  model->metre = 2;
  for (size_t t = 0; t < a->n; t++) {
    a->downbeat[t] = 0.5F * (first + second);
    a->beat[t] -= 0.5F * first * second;
  }
}

static void the_beats_are_those_of_another_library(void **state)
{
  size_t i = 0;
  size_t tested = 0;
  const json_t *vector = NULL;
  json_array_foreach(*state, i, vector)
  {
    const json_t *wanted = json_object_get(vector, "beats");
    if (!wanted) {
      continue;
    }
    CwModel model = model_of(vector);
    CwActivation a = activation_of(vector);
    CwBeats beats;
    without_bars(&model, &a);
    assert_int_equal(cw_decode(&a, &model, NULL, 0, NULL, &beats), CW_OK);
    assert_int_equal(beats.n, json_array_size(wanted));
    for (size_t k = 0; k < beats.n; k++) {
      const json_t *beat = json_array_get(wanted, k);
      const double frame = json_number_value(json_array_get(beat, 0));
      assert_near(beats.beat[k].time_s, frame / CW_FEATURE_RATE_HZ, 1e-9);
      assert_int_equal(beats.beat[k].run_start, json_integer_value(json_array_get(beat, 1)));
    }
    cw_beats_free(&beats);
    cw_activation_free(&a);
    tested++;
  }
  assert_int_equal(tested, 2);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_probabilities_are_those_of_another_library),
      cmocka_unit_test(the_beats_are_those_of_another_library),
  };
  return cmocka_run_group_tests(tests, set_up, tear_down);
}
