// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "cli/cli.h"

enum { MOST_HELP = 60 };

/// Write a text inside single quotes.
static void write_text(FILE *out, const char *text, size_t most)
{
  for (size_t i = 0; text[i] && (i < most || ((unsigned char)text[i] & 0xC0U) == 0x80U); i++) {
    fprintf(out, "%s%c", strchr("'\\", text[i]) ? "\\" : "", text[i] == '\n' ? ' ' : text[i]);
  }
}

static void write_option(FILE *out, const CliCommand *command, const CliOption *option)
{
  char text[500];
  cli_option_help(option, text, sizeof text);
  fprintf(out, "complete -c countwright -n '__fish_seen_subcommand_from %s' -l %s", command->name, option->name);
  if (option->letter) {
    fprintf(out, " -s %c", option->letter);
  }
  if (option->kind == CLI_WORD) {
    char words[200];
    fprintf(out, " -x -a '%s'", cli_join(option->words, " ", words, sizeof words));
  } else if (option->kind == CLI_FILE || option->kind == CLI_FILES) {
    fputs(" -r -F", out);
  } else if (option->kind != CLI_SWITCH) {
    fputs(" -x", out);
  }
  fputs(" -d '", out);
  write_text(out, text, MOST_HELP);
  fputs("'\n", out);
}

void cli_completion_fish(FILE *out)
{
  fputs("# fish completion for countwright\n", out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    const CliCommand *command = &cli_command[i];
    fprintf(out, "complete -c countwright -f -n __fish_use_subcommand -a %s -d '", command->name);
    write_text(out, command->summary, strlen(command->summary));
    fputs("'\n", out);
    for (size_t k = 0; k == 0 || command->option[k - 1] != CLI_HELP; k++) {
      if (!cli_option[command->option[k]].hidden) {
        write_option(out, command, &cli_option[command->option[k]]);
      }
    }
  }
}
