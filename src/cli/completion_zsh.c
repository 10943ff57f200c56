// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "cli/cli.h"

enum { MOST_HELP = 60 };

/// Write a text inside single quotes, with what _arguments and _describe would take for their own marked as text.
static void write_text(FILE *out, const char *text, size_t most)
{
  for (size_t i = 0; text[i] && (i < most || ((unsigned char)text[i] & 0xC0U) == 0x80U); i++) {
    if (text[i] == '\'') {
      fputs("'\\''", out);
    } else {
      fprintf(out, "%s%c", strchr("[]:\\", text[i]) ? "\\" : "", text[i] == '\n' ? ' ' : text[i]);
    }
  }
}

static void write_option(FILE *out, const CliOption *option)
{
  char text[500];
  cli_option_help(option, text, sizeof text);
  fprintf(out, " \\\n        '%s--%s%s[", option->kind == CLI_FILES ? "*" : "", option->name,
          option->kind == CLI_SWITCH ? "" : "=");
  write_text(out, text, MOST_HELP);
  fputc(']', out);
  if (option->kind == CLI_WORD) {
    char words[200];
    fprintf(out, ":%s:(%s)", option->name, cli_join(option->words, " ", words, sizeof words));
  } else if (option->kind == CLI_FILE || option->kind == CLI_FILES) {
    fputs(":file:_files", out);
  } else if (option->kind != CLI_SWITCH) {
    fputs(": : ", out);
  }
  fputc('\'', out);
}

static void write_command(FILE *out, const CliCommand *command)
{
  fprintf(out, "    %s)\n      _arguments", command->name);
  for (size_t i = 0; i == 0 || command->option[i - 1] != CLI_HELP; i++) {
    if (!cli_option[command->option[i]].hidden) {
      write_option(out, &cli_option[command->option[i]]);
    }
  }
  fputs(" \\\n        '*:file:_files' ;;\n", out);
}

void cli_completion_zsh(FILE *out)
{
  fputs("#compdef countwright\n"
        "_countwright() {\n"
        "  local -a commands=(\n",
        out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    fprintf(out, "    '%s:", cli_command[i].name);
    write_text(out, cli_command[i].summary, strlen(cli_command[i].summary));
    fputs("'\n", out);
  }
  fputs("  )\n"
        "  if (( CURRENT == 2 )); then\n"
        "    _describe command commands\n"
        "    return\n"
        "  fi\n"
        "  local command=$words[2]\n"
        "  shift words\n"
        "  (( CURRENT-- ))\n"
        "  case $command in\n",
        out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    write_command(out, &cli_command[i]);
  }
  fputs("  esac\n"
        "}\n"
        "_countwright \"$@\"\n",
        out);
}
