// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "cli/cli.h"

/// Write text so that man(7) takes none of it for its own.
static void plain(FILE *out, const char *text)
{
  bool line_start = true;
  for (; *text; text++) {
    if (line_start && (*text == '.' || *text == '\'')) {
      fputs("\\&", out);
    }
    switch (*text) {
    case '-':
      fputs("\\-", out);
      break;
    case '\\':
      fputs("\\e", out);
      break;
    case '\'':
      fputs("\\(aq", out);
      break;
    case '\n':
      fputs("\n.PP", out);
      fputc('\n', out);
      break;
    default:
      fputc(*text, out);
    }
    line_start = *text == '\n';
  }
}

static void write_option(FILE *out, const CliOption *option)
{
  fputs(".TP\n", out);
  if (option->letter) {
    fprintf(out, "\\fB\\-%c\\fR, ", option->letter);
  }
  fputs("\\fB\\-\\-", out);
  plain(out, option->name);
  fputs("\\fR", out);
  char text[500];
  cli_value_name(option, text, sizeof text);
  if (text[0]) {
    fprintf(out, " \\fI%s\\fR", text);
  }
  fputc('\n', out);
  plain(out, cli_option_help(option, text, sizeof text));
  fputc('\n', out);
}

static void write_command(FILE *out, const CliCommand *command)
{
  fprintf(out, ".SS \"countwright %s %s\"\n", command->name, command->operands);
  plain(out, command->text);
  fputc('\n', out);
  for (size_t i = 0; i == 0 || command->option[i - 1] != CLI_HELP; i++) {
    if (!cli_option[command->option[i]].hidden) {
      write_option(out, &cli_option[command->option[i]]);
    }
  }
}

void cli_man(FILE *out)
{
  fprintf(out, ".TH COUNTWRIGHT 1 \"\" \"countwright %s\"\n.SH NAME\ncountwright \\- ", CW_VERSION);
  plain(out, cli_purpose);
  fputs("\n.SH SYNOPSIS\n", out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    fprintf(out, "%s\\fBcountwright %s\\fR %s [\\fIoption\\fR ...]\n", i ? ".br\n" : "", cli_command[i].name,
            cli_command[i].operands);
  }
  fputs(".SH COMMANDS\n", out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    write_command(out, &cli_command[i]);
  }
  fputs(".SH EXIT STATUS\n0 when all went well, 1 when something failed, 2 when it was called wrongly.\n"
        ".SH ENVIRONMENT\n.TP\n.B NO_COLOR\nwhen set to anything, messages have no colour.\n"
        ".TP\n.B COLUMNS\ncolumns of the text where \\fB\\-\\-width\\fR is not given and there is no terminal.\n"
        ".SH EXAMPLES\n.nf\n",
        out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    plain(out, cli_command[i].example);
    fputc('\n', out);
  }
  fputs(".fi\n", out);
}
