// SPDX-License-Identifier: GPL-3.0-or-later
/// How many misspellings are understood, and how much ordinary talk is left alone: held to least values, on the half that
/// the matcher was made with and on the half kept apart. -v prints what fails.
#include <stdio.h>
#include <string.h>

#include "countwright/glossary.h"
#include "unit/cw_test.h"

#define LISTS CW_SOURCE "/tests/unit/glossary/"

static bool is_wordy;
static CwGlossary *glossary;

/// What comes of a list.
typedef struct {
  size_t lines;
  size_t right;     ///< the proper spelling is the one wanted
  size_t wrong;     ///< another is suggested
  size_t untouched; ///< nothing is suggested
} Tally;

/// The text with the proper terms, and how many were suggested.
static size_t spell(const char *text, char *out, size_t size)
{
  CwSpellings found;
  size_t n = 0;
  out[0] = '\0';
  assert_int_equal(cw_spelling_find(glossary, text, strlen(text), NULL, &found), CW_OK);
  for (size_t i = 0; i < found.n; i++) {
    const size_t used = strlen(out);
    snprintf(out + used, size - used, "%s%s", used ? " " : "",
             found.item[i].proper ? found.item[i].proper : found.item[i].written);
    n += found.item[i].proper != NULL;
  }
  cw_spellings_free(&found);
  return n;
}

static void judge(Tally *tally, const char *text, const char *wanted)
{
  char told[400];
  const size_t n = spell(text, told, sizeof told);
  tally->lines++;
  tally->untouched += n == 0;
  tally->right += n > 0 && wanted && strcmp(told, wanted) == 0;
  tally->wrong += n > 0 && !(wanted && strcmp(told, wanted) == 0);
  if (is_wordy && (wanted ? strcmp(told, wanted) != 0 : n > 0)) {
    print_message("    '%s': '%s', wanted '%s'\n", text, told, wanted ? wanted : "");
  }
}

/// @param half 0: all lines; 1: those of odd number; 2: those of even number.
static Tally read_list(const char *name, unsigned half)
{
  char path[400];
  char line[400];
  Tally tally = {0};
  unsigned number = 0;
  snprintf(path, sizeof path, LISTS "%s", name);
  FILE *file = fopen(path, "r");
  assert_non_null(file);
  while (fgets(line, sizeof line, file)) {
    line[strcspn(line, "\n")] = '\0';
    if (line[0] == '#' || (++number % 2 == 0 ? half == 1 : half == 2)) {
      continue;
    }
    char *tab = strchr(line, '\t');
    if (tab) {
      *tab = '\0';
    }
    judge(&tally, line, tab ? tab + 1 : NULL);
  }
  fclose(file);
  return tally;
}

/// Recall: of the misspellings, those understood. Precision: of the suggestions, in misspellings and in ordinary talk
/// together, those that are right.
static void check(const char *name, unsigned ordinary_half, double least_recall, double least_precision)
{
  const Tally tally = read_list(name, 0);
  const Tally ordinary = read_list("ordinary.txt", ordinary_half);
  const double recall = (double)tally.right / (double)tally.lines;
  const double precision = (double)tally.right / (double)(tally.right + tally.wrong + ordinary.wrong);
  print_message("%s: %zu misspellings, recall %.3f (held %.3f), %zu ordinary lines of which %zu are touched, precision "
                "%.3f (held %.3f)\n",
                name, tally.lines, recall, least_recall, ordinary.lines, ordinary.wrong, precision, least_precision);
  assert_true(tally.lines >= 150 && ordinary.lines >= 150);
  assert_true(recall >= least_recall);
  assert_true(precision >= least_precision);
}

static void the_half_that_the_matcher_was_made_with(void **state)
{
  (void)state;
  check("build.tsv", 1, 0.95, 0.96);
}

static void the_half_kept_apart(void **state)
{
  (void)state;
  check("apart.tsv", 2, 0.93, 0.98);
}

int main(int argc, char **argv)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_half_that_the_matcher_was_made_with),
      cmocka_unit_test(the_half_kept_apart),
  };
  is_wordy = argc > 1 && strcmp(argv[1], "-v") == 0;
  if (cw_glossary_new(true, &glossary) != CW_OK) {
    return 1;
  }
  const int failed = cmocka_run_group_tests(tests, NULL, NULL);
  cw_glossary_free(glossary);
  return failed;
}
