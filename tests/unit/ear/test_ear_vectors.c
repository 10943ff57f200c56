// SPDX-License-Identifier: GPL-3.0-or-later
/// What the learned ear hears, against numpy in double precision: tests/vectors/ear/vectors.json, made by make.py there,
/// which was itself held against PyTorch 1.13's output of such a network (6e-6 apart at most).
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "unit/ear/heard.h"

#define TOLERANCE 1e-4

static size_t whole(const json_t *object, const char *key)
{
  return (size_t)json_integer_value(json_object_get(object, key));
}

/// The hints of a vector, row by row; NULL when it has none.
static CwEarHint *hints_of(const json_t *vector, size_t n)
{
  const json_t *steps = json_object_get(vector, "hint");
  if (json_array_size(steps) == 0) {
    return NULL;
  }
  CwEarHint *hint = calloc(n, sizeof *hint);
  assert_non_null(hint);
  for (size_t i = 0; i < json_array_size(steps); i++) {
    const json_t *step = json_array_get(steps, i);
    for (size_t row = whole(step, "from"); row < n; row++) {
      hint[row].period_s = (float)json_number_value(json_object_get(step, "period_s"));
      hint[row].beats = (unsigned char)whole(step, "beats");
    }
  }
  return hint;
}

static CwEar *ear_of(const json_t *vector, const CwFeatures *features)
{
  CwEar *ear = NULL;
  if (strcmp(json_string_value(json_object_get(vector, "network")), "embedded") == 0) {
    assert_int_equal(cw_ear_new(features, NULL, &ear), CW_OK);
    return ear;
  }
  size_t size = 0;
  unsigned char *network = heard_small_network(&size);
  assert_int_equal(cw_ear_new_from(network, size, features, NULL, &ear), CW_OK);
  free(network);
  return ear;
}

static double compare(const json_t *vector, const CwHeard *heard)
{
  const float *const curve[] = {heard->beat, heard->downbeat, heard->phrase};
  const json_t *kept = json_object_get(vector, "kept");
  double worst = 0;
  assert_true(json_array_size(kept) > 0);
  for (size_t i = 0; i < json_array_size(kept); i++) {
    const json_t *row = json_array_get(kept, i);
    const json_t *logits = json_object_get(row, "logits");
    assert_int_equal(heard->phrase ? 3 : 2, json_array_size(logits));
    for (size_t o = 0; o < json_array_size(logits); o++) {
      const double wanted = json_number_value(json_array_get(logits, o));
      worst = fmax(worst, fabs((double)curve[o][2 * whole(row, "row")] - wanted));
    }
  }
  return worst;
}

static void every_row_is_as_computed_elsewhere(void **state)
{
  (void)state;
  json_t *vectors = json_load_file(CW_VECTORS "/ear/vectors.json", 0, NULL);
  assert_non_null(vectors);
  for (size_t i = 0; i < json_array_size(vectors); i++) {
    const json_t *vector = json_array_get(vectors, i);
    const size_t n = whole(vector, "rows");
    CwFeatures features = heard_sound(n, (unsigned)whole(vector, "seed"));
    CwEarHint *hint = hints_of(vector, n);
    CwEar *ear = ear_of(vector, &features);
    CwHeard heard;
    assert_int_equal(cw_ear_listen(ear, hint, NULL, &heard), CW_OK);
    const double worst = compare(vector, &heard);
    print_message("%zu rows%s: within %.2g\n", n, hint ? " with a hint" : "", worst);
    assert_near(worst, 0.0, TOLERANCE);
    cw_heard_free(&heard);
    cw_ear_free(ear);
    cw_features_free(&features);
    free(hint);
  }
  json_decref(vectors);
}

int main(void)
{
  const struct CMUnitTest tests[] = {cmocka_unit_test(every_row_is_as_computed_elsewhere)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
