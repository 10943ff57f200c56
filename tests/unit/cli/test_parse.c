// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "cli/cli.h"

// the table names the commands; here they are never run
int cli_count(const CliArgs *args)
{
  (void)args;
  return CLI_GOOD;
}

int cli_sheet(const CliArgs *args)
{
  return cli_count(args);
}

int cli_drift(const CliArgs *args)
{
  return cli_count(args);
}

int cli_carry(const CliArgs *args)
{
  return cli_count(args);
}

int cli_pack(const CliArgs *args)
{
  return cli_count(args);
}

int cli_desk(const CliArgs *args)
{
  return cli_count(args);
}

int cli_check(const CliArgs *args)
{
  return cli_count(args);
}

int cli_rehearse(const CliArgs *args)
{
  return cli_count(args);
}

enum { MOST_WORDS = 12 };

/// Parse a command line given as one text, in which each '|' ends a word.
static int parse(const char *line, CliArgs *args)
{
  static char copy[300];
  char *word[MOST_WORDS];
  int n = 0;
  assert_true(strlen(line) < sizeof copy);
  strcpy(copy, line);
  for (char *at = copy; *at; n++) {
    assert_true(n < MOST_WORDS);
    word[n] = at;
    char *end = strchr(at, '|');
    assert_non_null(end);
    *end = '\0';
    at = end + 1;
  }
  const CliCommand *command = cli_find_command(word[0]);
  assert_non_null(command);
  return cli_parse(command, n - 1, word + 1, args);
}

static void options_stand_anywhere_and_in_each_spelling(void **state)
{
  (void)state;
  static const char *const line[] = {
      "count|a.wav|-o|x.pdf|--width|60|--overwrite|-o|y.txt|",
      "count|-ox.pdf|--width=60|--overwrite|--output=y.txt|a.wav|",
      "count|--overwrite|-o|x.pdf|--output|y.txt|--width|60|--|a.wav|",
  };
  for (size_t i = 0; i < sizeof line / sizeof line[0]; i++) {
    CliArgs args;
    assert_int_equal(parse(line[i], &args), CLI_GOOD);
    assert_int_equal(args.n_operands, 1);
    assert_string_equal(args.operand[0], "a.wav");
    assert_int_equal(args.n_outputs, 2);
    assert_string_equal(args.output[0], "x.pdf");
    assert_string_equal(args.output[1], "y.txt");
    assert_near(args.value[CLI_WIDTH].number, 60, 0);
    assert_true(args.value[CLI_OVERWRITE].given);
    assert_false(args.value[CLI_JSON].given);
    cli_args_free(&args);
  }
}

static void a_dash_and_what_follows_two_dashes_are_operands(void **state)
{
  (void)state;
  CliArgs args;
  assert_int_equal(parse("sheet|-|--|--json|", &args), CLI_GOOD);
  assert_int_equal(args.n_operands, 2);
  assert_string_equal(args.operand[0], "-");
  assert_string_equal(args.operand[1], "--json");
  assert_false(args.value[CLI_JSON].given);
  cli_args_free(&args);
}

static void endings_are_known_in_capitals_too_and_a_dash_has_none(void **state)
{
  (void)state;
  CliArgs args;
  assert_int_equal(parse("drift|a|b|-o|X.CSV|-o|-|--chart|c.Svg|", &args), CLI_GOOD);
  assert_int_equal(args.n_outputs, 2);
  cli_args_free(&args);
}

static void what_is_wrong_is_said(void **state)
{
  (void)state;
  static const struct {
    const char *line;
    const char *problem;
  } row[] = {
      {"count|", "'count': a file is missing"},
      {"drift|", "'drift': A B [C ...] is missing"},
      {"drift|a|", "'drift': a file is missing"},
      {"count|a|b|", "'b': this is one too many for 'count'"},
      {"count|a|--loud|", "'--loud': 'count' has no such option"},
      {"count|a|--jso|", "'--jso': 'count' has no such option"},
      {"check|a|-o|x|", "'-o': 'check' has no such option"},
      {"count|a|-|b|", "'-': this is one too many for 'count'"},
      {"count|a|--json=yes|", "'--json=yes': this option takes no value"},
      {"count|a|-o|", "'-o': FILE is missing after it"},
      {"count|a|--paper|", "'--paper': a4|letter|a5 is missing after it"},
      {"count|a|-hx|", "'-hx': this option takes no value"},
      {"count|a|--json=|", "'--json=': this option takes no value"},
      {"count|a|--width|", "'--width': N is missing after it"},
      {"count|a|-o|x.doc|",
       "'x.doc': a file for '--output' ends in one of .pdf, .svg, .png, .txt, .json, .csv, .mid, .html"},
      {"count|a|-o|.pdf|",
       "'.pdf': a file for '--output' ends in one of .pdf, .svg, .png, .txt, .json, .csv, .mid, .html"},
      {"drift|a|b|--chart|x.csv|", "'x.csv': a file for '--chart' ends in one of .svg, .pdf, .png"},
      {"count|a|--list|bars|", "'bars': '--list' takes one of beats, counts, ones, stretches"},
      {"sheet|a|--list|steps|", "'steps': '--list' takes one of beats, counts, ones, stretches"},
      {"count|a|--metre|7|", "'7': '--metre' takes one of 2, 3, 4, 5, 6, 2/4, 3/4, 4/4, 5/4, 6/4, 3/8, 6/8, 9/8, 12/8"},
      {"count|a|--width|39|", "'39': '--width' takes a whole number from 40 to 1000"},
      {"count|a|--width|80.5|", "'80.5': '--width' takes a whole number from 40 to 1000"},
      {"count|a|--width||", "'': '--width' takes a whole number from 40 to 1000"},
      {"count|a|--beats-per-count|0|", "'0': '--beats-per-count' takes a number from 0.25 to 16"},
      {"count|a|--beats-per-count|nan|", "'nan': '--beats-per-count' takes a number from 0.25 to 16"},
      {"count|a|--beats-per-count|3x|", "'3x': '--beats-per-count' takes a number from 0.25 to 16"},
      {"count|a|--beats-per-count|1.2.3|", "'1.2.3': '--beats-per-count' takes a number from 0.25 to 16"},
      {"count|a|--width|60|--width|70|", "'--width' is given twice"},
      {"count|a|--list|ones|--json|", "'--list' and '--json' exclude each other"},
      {"drift|a|b|--csv|--json|", "'--json' and '--csv' exclude each other"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    CliArgs args;
    assert_int_equal(parse(row[i].line, &args), CLI_USAGE);
    assert_string_equal(args.problem, row[i].problem);
    cli_args_free(&args);
  }
}

static void help_needs_nothing_else(void **state)
{
  (void)state;
  CliArgs args;
  assert_int_equal(parse("drift|--help|", &args), CLI_GOOD);
  assert_true(args.value[CLI_HELP].given);
  cli_args_free(&args);
}

static void a_long_word_is_cut_in_the_message(void **state)
{
  (void)state;
  static char word[2000];
  memset(word, 'x', sizeof word - 1);
  memcpy(word, "--", 2);
  char *words[] = {word};
  CliArgs args;
  assert_int_equal(cli_parse(cli_find_command("count"), 1, words, &args), CLI_USAGE);
  assert_int_equal(strlen(args.problem), sizeof args.problem - 1);
  cli_args_free(&args);
}

static void the_table_is_sound(void **state)
{
  (void)state;
  for (size_t i = 0; i < cli_n_commands; i++) {
    const CliCommand *command = &cli_command[i];
    assert_ptr_equal(cli_find_command(command->name), command);
    assert_true(command->least_operands <= command->most_operands);
    assert_non_null(command->run);
    assert_memory_equal(command->example, "countwright ", 12);
    size_t k = 0;
    for (; command->option[k] != CLI_HELP; k++) {
      assert_true(k + 1 < sizeof command->option / sizeof command->option[0]);
      for (size_t before = 0; before < k; before++) {
        const CliOption *one = &cli_option[command->option[before]];
        const CliOption *other = &cli_option[command->option[k]];
        assert_string_not_equal(one->name, other->name);
        assert_true(one->letter == 0 || one->letter != other->letter);
      }
    }
  }
  for (size_t i = 0; i < CLI_N_OPTIONS; i++) {
    const CliOption *option = &cli_option[i];
    assert_true(option->name && option->help);
    assert_true((option->kind == CLI_SWITCH || option->kind == CLI_WORD) == (option->value == NULL));
    assert_true(option->kind != CLI_WORD || option->words);
    assert_true((option->kind == CLI_WHOLE || option->kind == CLI_NUMBER) == (option->most > option->least));
  }
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  for (long n = 0; n < 2; n++) {
    CliArgs args;
    cw_fail_after(n);
    assert_int_equal(parse("count|a|", &args), CLI_FAILED);
    cli_args_free(&args);
  }
  cw_fail_after(-1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(options_stand_anywhere_and_in_each_spelling),
      cmocka_unit_test(a_dash_and_what_follows_two_dashes_are_operands),
      cmocka_unit_test(endings_are_known_in_capitals_too_and_a_dash_has_none),
      cmocka_unit_test(what_is_wrong_is_said),
      cmocka_unit_test(help_needs_nothing_else),
      cmocka_unit_test(a_long_word_is_cut_in_the_message),
      cmocka_unit_test(the_table_is_sound),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
