// SPDX-License-Identifier: GPL-3.0-or-later
/// The demo dance by its notes: the ones and the counts of the rehearsal, and the same carried to the performance.
#include <stdlib.h>

#include "accuracy/demo.h"
#include "accuracy/expect.h"
#include "accuracy/measure.h"
#include "accuracy/truth.h"
#include "countwright/drift.h"
#include "countwright/lineup.h"
#include "unit/cw_test.h"

static const double tolerance_s = 0.07;
static const double least_ones = 0.95;             ///< share of the ones within 70 ms
static const double least_counts = 0.90;           ///< share of the counts within 70 ms
static const double greatest_carry_error_s = 0.03; ///< mean over the counts, found and carried

typedef struct {
  CwNotebook notebook;
  CwCountLine rehearsal, performance; ///< the truth
  CwCountLine found;                  ///< the rehearsal's, by the notes
} Demo;

static bool line_up(const CwNotebook *notebook, CwCountLine *line)
{
  CwFeatures features = {0};
  CwMessages messages = {0};
  bool good = cw_features_read(CW_DEMO_REHEARSAL, NULL, &features) == CW_OK &&
              cw_lineup(&features, notebook, NULL, NULL, line, &messages) == CW_OK;
  for (size_t i = 0; i < messages.n; i++)
    print_message("lineup says: %s\n", messages.text[i]);
  cw_messages_free(&messages);
  cw_features_free(&features);
  return good;
}

static int read_demo(void **state)
{
  static Demo demo;
  *state = &demo;
  bool good = cw_true_line("demo-rehearsal", &demo.rehearsal) && cw_true_line("demo-performance", &demo.performance) &&
              cw_notebook_read(CW_DEMO_NOTES, &demo.notebook) == CW_OK && line_up(&demo.notebook, &demo.found);
  return good ? 0 : -1;
}

static int free_demo(void **state)
{
  Demo *demo = *state;
  cw_notebook_free(&demo->notebook);
  cw_count_line_free(&demo->rehearsal);
  cw_count_line_free(&demo->performance);
  cw_count_line_free(&demo->found);
  return 0;
}

static void the_notes_have_the_phrases_of_the_music(void **state)
{
  const Demo *demo = *state;
  const CwNotebook *notebook = &demo->notebook;
  assert_int_equal(notebook->n_phrases, demo->rehearsal.n_phrases);
  for (size_t k = 0; k < notebook->n_phrases; k++)
    assert_int_equal(notebook->phrase[k].counts, demo->rehearsal.phrase[k].counts);
  assert_int_equal(notebook->phrase[5].metre, 3);
  assert_near(notebook->phrase[5].beats_per_count, 3, 0);
  assert_int_equal(notebook->phrase[6].metre, 4);
  assert_near(notebook->phrase[6].beats_per_count, 1, 0);
  assert_int_equal(notebook->phrase[0].n_pins, 1);
  assert_near(notebook->phrase[0].pin[0].time_s, cw_count_line_start(&demo->rehearsal, 0), 0.005);
}

/// Starts of phrases. Release with free().
static double *ones_of(const CwCountLine *line)
{
  double *one_s = calloc(line->n_phrases + 1, sizeof *one_s);
  assert_non_null(one_s);
  for (size_t k = 0; k < line->n_phrases; k++)
    one_s[k] = cw_count_line_start(line, k);
  return one_s;
}

static void the_ones_are_found_by_the_notes(void **state)
{
  const Demo *demo = *state;
  const CwCountLine *found = &demo->found, *truth = &demo->rehearsal;
  assert_int_equal(found->n_phrases, truth->n_phrases);
  double *found_s = ones_of(found), *true_s = ones_of(truth);
  for (size_t k = 0; k < found->n_phrases; k++)
    print_message("one %zu: found %.3f s, true %.3f s\n", k + 1, found_s[k], true_s[k]);
  CwScore ones = cw_score(true_s, truth->n_phrases, found_s, found->n_phrases, tolerance_s);
  free(found_s);
  free(true_s);
  assert_true(cw_at_least("demo-rehearsal", "ones within 70 ms", ones.recall, least_ones));
}

static void the_counts_are_found_by_the_notes(void **state)
{
  const Demo *demo = *state;
  const CwCountLine *found = &demo->found, *truth = &demo->rehearsal;
  CwScore counts = cw_score(truth->count_s, truth->n_counts, found->count_s, found->n_counts, tolerance_s);
  print_message("counts within 70 ms: %.3f; mean error of these %.1f ms\n", counts.recall, 1000 * counts.mean_error_s);
  assert_true(cw_at_least("demo-rehearsal", "counts within 70 ms", counts.recall, least_counts));
}

static void found_counts_are_carried_to_the_performance(void **state)
{
  const Demo *demo = *state;
  CwTimeMap map = {0};
  CwCountLine carried = {0};
  assert_true(cw_demo_align(&map));
  assert_int_equal(cw_carry(&demo->found, &map, &carried, NULL), CW_OK);
  double error_s = cw_demo_count_error("found and carried counts", &carried, &demo->performance);
  cw_count_line_free(&carried);
  cw_time_map_free(&map);
  assert_true(cw_at_most("demo", "mean error of found and carried counts in s", error_s, greatest_carry_error_s));
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_notes_have_the_phrases_of_the_music),
      cmocka_unit_test(the_ones_are_found_by_the_notes),
      cmocka_unit_test(the_counts_are_found_by_the_notes),
      cmocka_unit_test(found_counts_are_carried_to_the_performance),
  };
  return cmocka_run_group_tests(tests, read_demo, free_demo);
}
