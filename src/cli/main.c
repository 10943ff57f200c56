// SPDX-License-Identifier: GPL-3.0-or-later
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/kept.h"
#include "cli/talk.h"
#include "countwright/version.h"

static void print_version(FILE *out)
{
  fprintf(out, "countwright %s\n", cw_version());
}

/// Options that stand in the place of a command.
static const struct {
  const char *word;
  void (*print)(FILE *out);
} general[] = {{"--help", cli_help},
               {"-h", cli_help},
               {"--help-man", cli_man},
               {"--help-completion", cli_completion},
               {"--help-completion-zsh", cli_completion_zsh},
               {"--help-completion-fish", cli_completion_fish},
               {"--version", print_version}};

static int run_command(const CliCommand *command, int n, char *const *words)
{
  CliArgs args;
  int result = cli_parse(command, n, words, &args);
  if (result == CLI_USAGE) {
    cli_say_usage(command, args.problem);
  } else if (result == CLI_FAILED) {
    cli_say_status(NULL, CW_ERR_NO_MEM);
  } else if (args.value[CLI_HELP].given) {
    cli_command_help(command, stdout);
  } else {
    result = command->run(&args);
  }
  cli_args_free(&args);
  return result;
}

static int run(int argc, char *const *argv)
{
  if (argc < 2) {
    return cli_say_usage(NULL, "a command is missing");
  }
  for (size_t i = 0; i < sizeof general / sizeof general[0]; i++) {
    if (strcmp(argv[1], general[i].word) == 0) {
      general[i].print(stdout);
      return CLI_GOOD;
    }
  }
  if (strcmp(argv[1], "--clear-cache") == 0) {
    return cli_cache_clear();
  }
  const CliCommand *command = cli_find_command(argv[1]);
  if (!command) {
    cli_say(argv[1], "there is no such command");
    return cli_say_usage(NULL, NULL);
  }
  return run_command(command, argc - 2, argv + 2);
}

int main(int argc, char **argv)
{
  cli_talk_begin();
  int result = run(argc, argv);
  cli_hush();
  if ((ferror(stdout) || fclose(stdout) != 0) && result == CLI_GOOD) {
    result = cli_say_status("standard output", CW_ERR_WRITE);
  }
  if (cli_stopped_by() && result != CLI_GOOD) {
    raise(cli_stopped_by()); // whoever waits for the program sees what ended it
  }
  return result;
}
