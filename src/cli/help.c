// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "cli/cli.h"

enum { WIDTH = 79, OPTION_COLUMN = 26, COMMAND_COLUMN = 12 };

/// Write a text in lines of at most WIDTH columns, each but the first after `indent` spaces; the first begins at
/// column `column`.
static void wrap(FILE *out, const char *text, size_t column, size_t indent)
{
  size_t at = column;
  bool first = true;
  while (*text) {
    const size_t length = strcspn(text, " \n");
    if (!first && (at + 1 + length > WIDTH || text[-1] == '\n')) {
      fprintf(out, "\n%*s", (int)indent, "");
      at = indent;
      first = true;
    }
    fprintf(out, "%s%.*s", first ? "" : " ", (int)length, text);
    at += length + (first ? 0 : 1);
    first = false;
    text += length + (text[length] != '\0');
  }
  fputc('\n', out);
}

/// Write `left` from column 2 and `text` from `column`, on the next line where `left` is too long.
static void write_pair(FILE *out, const char *left, const char *text, size_t column)
{
  fprintf(out, "  %s", left);
  const size_t used = 2 + strlen(left);
  if (used + 2 > column) {
    fputc('\n', out);
  }
  fprintf(out, "%*s", (int)(used + 2 > column ? column : column - used), "");
  wrap(out, text, column, column);
}

static void write_option(FILE *out, const CliOption *option)
{
  char value[60];
  cli_value_name(option, value, sizeof value);
  char left[100];
  snprintf(left, sizeof left, "%c%c%s--%s%s%s", option->letter ? '-' : ' ', option->letter ? option->letter : ' ',
           option->letter ? ", " : "  ", option->name, value[0] ? " " : "", value);
  char text[500];
  write_pair(out, left, cli_option_help(option, text, sizeof text), OPTION_COLUMN);
}

void cli_command_help(const CliCommand *command, FILE *out)
{
  fprintf(out, "usage: countwright %s %s [option ...]\n\n", command->name, command->operands);
  wrap(out, command->text, 0, 0);
  fputs("\noptions:\n", out);
  for (size_t i = 0; i == 0 || command->option[i - 1] != CLI_HELP; i++) {
    if (!cli_option[command->option[i]].hidden) {
      write_option(out, &cli_option[command->option[i]]);
    }
  }
  fprintf(out, "\nexample:\n  %s\n", command->example);
}

void cli_help(FILE *out)
{
  fprintf(out, "usage: countwright COMMAND [option ...] FILE ...\n\nCountwright %s.\n\ncommands:\n", cli_purpose);
  for (size_t i = 0; i < cli_n_commands; i++) {
    write_pair(out, cli_command[i].name, cli_command[i].summary, COMMAND_COLUMN);
  }
  fputs("\noptions:\n", out);
  write_pair(out, "-h, --help", "print this help; after a COMMAND, help on it", OPTION_COLUMN);
  write_pair(out, "    --help-man", "print the manual page", OPTION_COLUMN);
  write_pair(out, "    --help-completion",
             "print completion for bash; --help-completion-zsh and -fish for those shells", OPTION_COLUMN);
  write_pair(out, "    --clear-cache",
             "remove what is kept of recordings that were measured, in XDG_CACHE_HOME/countwright or "
             "~/.cache/countwright. At most 1 GiB is kept there, and it is never needed",
             OPTION_COLUMN);
  write_pair(out, "    --version", "print the version", OPTION_COLUMN);
  fputs("\nEnds with 0 when all went well, 1 when something failed, 2 when called wrongly.\n", out);
}
