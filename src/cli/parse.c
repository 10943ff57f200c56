// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/cli.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "countwright/api.h"
#include "countwright/cues.h"

/// The words being understood, and how far.
typedef struct {
  CliArgs *args;
  char *const *word;
  int n;
  int at; ///< the next word
} Parser;

CW_PRINTF(2, 3) static bool refuse(CliArgs *args, const char *format, ...)
{
  va_list list;
  va_start(list, format);
  vsnprintf(args->problem, sizeof args->problem, format, list);
  va_end(list);
  return false;
}

/// The command's option whose name is the first `length` bytes of `name`, or whose letter is `letter`; CLI_N_OPTIONS
/// when there is none.
static CliOptionId find_option(const CliCommand *command, const char *name, size_t length, char letter)
{
  for (size_t i = 0;; i++) {
    const CliOption *option = &cli_option[command->option[i]];
    const bool named = name && strlen(option->name) == length && memcmp(option->name, name, length) == 0;
    if (named || (letter && option->letter == letter)) {
      return command->option[i];
    }
    if (command->option[i] == CLI_HELP) {
      return CLI_N_OPTIONS;
    }
  }
}

static bool ends_in(const char *text, const char *ending)
{
  const size_t length = strlen(text);
  const size_t wanted = strlen(ending);
  return length > wanted && strcasecmp(text + length - wanted, ending) == 0;
}

static bool check_words(CliArgs *args, const CliOption *option, const char *text)
{
  const bool file = option->kind == CLI_FILE || option->kind == CLI_FILES;
  if (!option->words || (file && strcmp(text, "-") == 0)) {
    return true;
  }
  for (size_t i = 0; option->words[i]; i++) {
    if (file ? ends_in(text, option->words[i]) : strcmp(text, option->words[i]) == 0) {
      return true;
    }
  }
  char allowed[100];
  cli_join(option->words, ", ", allowed, sizeof allowed);
  return file ? refuse(args, "'%s': a file for '--%s' ends in one of %s", text, option->name, allowed)
              : refuse(args, "'%s': '--%s' takes one of %s", text, option->name, allowed);
}

static bool check_cues(CliArgs *args, const CliOption *option, const char *text)
{
  unsigned cues = 0;
  return strcmp(text, CLI_LIST_CUES) == 0 || cw_cues_parse(text, &cues) ||
         refuse(args, "'%s': '--%s' takes names that '--%s %s' prints", text, option->name, option->name,
                CLI_LIST_CUES);
}

static bool check_number(CliArgs *args, const CliOption *option, const char *text, double *number)
{
  char *end = NULL;
  *number = strtod(text, &end);
  const char *digits = option->least < 0 && text[0] == '-' ? text + 1 : text;
  const bool plain = digits[0] != '\0' && strspn(digits, "0123456789.") == strlen(digits) && *end == '\0';
  const bool whole = option->kind != CLI_WHOLE || *number == floor(*number);
  if (plain && whole && *number >= option->least && *number <= option->most) {
    return true;
  }
  return refuse(args, "'%s': '--%s' takes a %snumber from %g to %g", text, option->name,
                option->kind == CLI_WHOLE ? "whole " : "", option->least, option->most);
}

/// "3" or "3-6".
static bool check_span(CliArgs *args, const CliOption *option, const char *text, CliValue *value)
{
  char *end = NULL;
  const bool begins = strspn(text, "0123456789") > 0;
  value->number = (double)strtoul(text, &end, 10);
  value->last = value->number;
  bool good = begins && value->number >= 1;
  if (good && *end == '-') {
    const char *last = end + 1;
    good = strspn(last, "0123456789") > 0;
    value->last = (double)strtoul(last, &end, 10);
  }
  return (good && *end == '\0' && value->last >= value->number) ||
         refuse(args, "'%s': '--%s' takes a number or two, such as '3' or '3-6'", text, option->name);
}

static bool set(CliArgs *args, CliOptionId id, const char *text)
{
  const CliOption *option = &cli_option[id];
  CliValue *value = &args->value[id];
  if (value->given && option->kind != CLI_SWITCH && option->kind != CLI_FILES) {
    return refuse(args, "'--%s' is given twice", option->name);
  }
  value->given = true;
  value->text = text;
  switch (option->kind) {
  case CLI_SWITCH:
    return true;
  case CLI_FILES:
    args->output[args->n_outputs++] = text;
    return check_words(args, option, text);
  case CLI_FILE:
  case CLI_WORD:
    return check_words(args, option, text);
  case CLI_TEXT:
    return true;
  case CLI_SPAN:
    return check_span(args, option, text, value);
  case CLI_CUES:
    return check_cues(args, option, text);
  case CLI_WHOLE:
  case CLI_NUMBER:
    return check_number(args, option, text, &value->number);
  }
  return false;
}

/// Take the value of an option: `joined` to it, or the next word.
static bool take_value(Parser *parser, CliOptionId id, const char *word, const char *joined)
{
  if (cli_option[id].kind == CLI_SWITCH) {
    return joined ? refuse(parser->args, "'%s': this option takes no value", word) : set(parser->args, id, NULL);
  }
  const char *value = joined;
  if (!value && parser->at < parser->n) {
    value = parser->word[parser->at++];
  }
  char name[100];
  return value ? set(parser->args, id, value)
               : refuse(parser->args, "'%s': %s is missing after it", word,
                        cli_value_name(&cli_option[id], name, sizeof name));
}

/// "--name", "--name=value", "--name value", "-o", "-ovalue" or "-o value".
static bool take_option(Parser *parser, const char *word)
{
  const CliCommand *command = parser->args->command;
  const bool named = word[1] == '-';
  const size_t length = named ? strcspn(word + 2, "=") : 0;
  const CliOptionId id = named ? find_option(command, word + 2, length, 0) : find_option(command, NULL, 0, word[1]);
  if (id == CLI_N_OPTIONS) {
    return refuse(parser->args, "'%s': '%s' has no such option", word, command->name);
  }
  const char *rest = named ? word + 2 + length : word + 2;
  const char *joined = *rest == '\0' ? NULL : named ? rest + 1 : rest;
  return take_value(parser, id, word, joined);
}

static bool take_words(Parser *parser)
{
  bool only_operands = false;
  while (parser->at < parser->n) {
    const char *word = parser->word[parser->at++];
    bool good = true;
    if (only_operands || word[0] != '-' || word[1] == '\0') {
      parser->args->operand[parser->args->n_operands++] = word;
    } else if (strcmp(word, "--") == 0) {
      only_operands = true;
    } else {
      good = take_option(parser, word);
    }
    if (!good) {
      return false;
    }
  }
  return true;
}

static bool count_operands(CliArgs *args)
{
  const CliCommand *command = args->command;
  if (args->n_operands < command->least_operands) {
    return refuse(args, "'%s': %s is missing", command->name,
                  args->n_operands || command->least_operands == 1 ? "a file" : command->operands);
  }
  if (args->n_operands > command->most_operands) {
    return refuse(args, "'%s': this is one too many for '%s'", args->operand[command->most_operands], command->name);
  }
  return true;
}

/// Of the options that may only stand alone, at most one is given.
static bool check_alone(CliArgs *args)
{
  const CliOption *first = NULL;
  for (size_t id = 0; id < CLI_N_OPTIONS; id++) {
    if (!args->value[id].given || !cli_option[id].alone) {
      continue;
    }
    if (first) {
      return refuse(args, "'--%s' and '--%s' exclude each other", first->name, cli_option[id].name);
    }
    first = &cli_option[id];
  }
  return true;
}

int cli_parse(const CliCommand *command, int n, char *const *words, CliArgs *args)
{
  *args = (CliArgs){.command = command};
  args->operand = cw_new((size_t)n, sizeof *args->operand);
  args->output = cw_new((size_t)n, sizeof *args->output);
  if (!args->operand || !args->output) {
    return CLI_FAILED;
  }
  Parser parser = {.args = args, .word = words, .n = n};
  if (!take_words(&parser)) {
    return CLI_USAGE;
  }
  const bool good = args->value[CLI_HELP].given || cli_lists_cues(args) || (count_operands(args) && check_alone(args));
  return good ? CLI_GOOD : CLI_USAGE;
}

bool cli_lists_cues(const CliArgs *args)
{
  const char *cues = args->value[CLI_LEAVE_OUT].text;
  return cues && strcmp(cues, CLI_LIST_CUES) == 0;
}

void cli_args_free(CliArgs *args)
{
  free(args->operand);
  free(args->output);
  *args = (CliArgs){0};
}
