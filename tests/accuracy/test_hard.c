// SPDX-License-Identifier: GPL-3.0-or-later
/// Music that is hard to count, held to a table of least values.
/// -v prints every figure; --table prints the table anew, with what holds now. The table is held for the plain ear;
/// --learned is for the other, which is held to means over the cases.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/hard/judge.h"
#include "accuracy/hard/table.h"
#include "accuracy/hard/table_print.h"
#include "unit/cw_test.h"

enum { MOST_CASES = 64 };

static bool is_wordy;
static bool is_learned;
static CwVerdict verdicts[MOST_CASES][CW_N_MODES];

static CwFeatures measure(const Sound *sound)
{
  CwFeatures features = {0};
  assert_int_equal(cw_features_measure(sound->sample, sound->n, &features), CW_OK);
  features.n_heard = is_learned ? features.n_heard : 0;
  return features;
}

/// Whether what is measured is at least what is held; says how much is wanted.
static bool holds(const CwHardLine *line, const CwVerdict *verdict)
{
  bool good = true;
  for (CwMeasure m = 0; m < CW_N_MEASURES; m++) {
    if (isnan(verdict->value[m]))
      continue;
    const bool held = verdict->value[m] >= line->held[m];
    if (is_wordy || !held)
      cw_hard_print_figure(line, verdict, m);
    good &= held;
  }
  if (is_wordy || !good)
    print_message("    %s\n", verdict->reading);
  return good;
}

static void the_counts_of_a_hard_case_are_found(void **state)
{
  const CwHardCase *hard = *state;
  CwPlayed played;
  assert_true(cw_hard_play(hard, &played));
  CwFeatures features = measure(&played.sound);
  bool good = true;
  for (CwMode mode = 0; mode < CW_N_MODES; mode++) {
    CwVerdict *verdict = &verdicts[hard - cw_hard_cases][mode];
    *verdict = cw_judge(hard, &played.truth, &features, mode);
    const CwHardLine *line = cw_hard_line(hard->name, mode);
    assert_non_null(line);
    good &= holds(line, verdict) || is_learned;
  }
  cw_features_free(&features);
  cw_played_free(&played);
  assert_true(good);
}

/// Mean of one measure over the cases.
static double mean(CwMode mode, CwMeasure measure)
{
  double sum = 0;
  for (size_t i = 0; i < cw_n_hard_cases; i++)
    sum += verdicts[i][mode].value[measure];
  return sum / (double)cw_n_hard_cases;
}

static void the_learned_ear_holds_on_the_whole(void **state)
{
  (void)state;
  static const struct {
    CwMode mode;
    CwMeasure measure;
    double least;
  } held[] = {{CW_ALONE, CW_BEAT_F, 0.95}, {CW_ALONE, CW_DOWNBEAT_F, 0.86}, {CW_NOTES, CW_COUNT_F, 0.97},
              {CW_NOTES, CW_ONES, 0.95},   {CW_PINS, CW_ONES, 0.95},        {CW_TAPPED, CW_ONES, 0.97}};
  bool good = true;
  for (size_t i = 0; i < sizeof held / sizeof *held; i++) {
    const double value = mean(held[i].mode, held[i].measure);
    print_message("%s %s: mean %.3f, held %.3f\n", cw_mode_names[held[i].mode], cw_measure_names[held[i].measure],
                  value, held[i].least);
    good &= value >= held[i].least;
  }
  assert_true(good);
}

static void print_table(void)
{
  for (size_t i = 0; i < cw_n_hard_cases; i++)
    for (CwMode mode = 0; mode < CW_N_MODES; mode++)
      cw_hard_print_line(cw_hard_line(cw_hard_cases[i].name, mode), &verdicts[i][mode]);
}

int main(int argc, char **argv)
{
  bool table = false;
  for (int i = 1; i < argc; i++) {
    is_wordy |= strcmp(argv[i], "-v") == 0;
    table |= strcmp(argv[i], "--table") == 0;
    is_learned |= strcmp(argv[i], "--learned") == 0;
  }
  static struct CMUnitTest tests[MOST_CASES + 1];
  static char name[MOST_CASES][64];
  if (cw_n_hard_cases > MOST_CASES)
    return EXIT_FAILURE;
  for (size_t i = 0; i < cw_n_hard_cases; i++) {
    snprintf(name[i], sizeof name[i], "the_counts_of_%s_are_found", cw_hard_cases[i].name);
    tests[i] = (struct CMUnitTest){
        .name = name[i], .test_func = the_counts_of_a_hard_case_are_found, .initial_state = (void *)&cw_hard_cases[i]};
  }
  size_t n = cw_n_hard_cases;
  if (is_learned)
    tests[n++] = (struct CMUnitTest)cmocka_unit_test(the_learned_ear_holds_on_the_whole);
  int failed = _cmocka_run_group_tests("hard cases", tests, n, NULL, NULL);
  if (table)
    print_table();
  return failed;
}
