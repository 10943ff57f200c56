// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/cli.h"

/// A branch of the shell's case for an option whose values are known.
static void write_values(FILE *out, const CliCommand *command, const CliOption *option)
{
  if (option->kind != CLI_WORD) {
    return;
  }
  fprintf(out, "    %s:--%s) words='", command->name, option->name);
  for (size_t i = 0; option->words[i]; i++) {
    fprintf(out, "%s%s", i ? " " : "", option->words[i]);
  }
  fputs("' ;;\n", out);
}

static void write_options(FILE *out, const CliCommand *command)
{
  fprintf(out, "    %s:*) words='", command->name);
  for (size_t i = 0; i == 0 || command->option[i - 1] != CLI_HELP; i++) {
    const CliOption *option = &cli_option[command->option[i]];
    if (!option->hidden) {
      fprintf(out, "%s--%s", i ? " " : "", option->name);
    }
  }
  fputs("' ;;\n", out);
}

void cli_completion(FILE *out)
{
  fputs("# bash completion for countwright\n"
        "_countwright() {\n"
        "  local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]} words=\n"
        "  if [[ $COMP_CWORD -eq 1 ]]; then\n"
        "    words='",
        out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    fprintf(out, "%s ", cli_command[i].name);
  }
  fputs("--help --clear-cache --version'\n"
        "    mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
        "    return\n"
        "  fi\n"
        "  case ${COMP_WORDS[1]}:$previous in\n",
        out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    const CliCommand *command = &cli_command[i];
    for (size_t k = 0; command->option[k] != CLI_HELP; k++) {
      write_values(out, command, &cli_option[command->option[k]]);
    }
  }
  fputs("    *) [[ $current == -* ]] && case ${COMP_WORDS[1]}: in\n", out);
  for (size_t i = 0; i < cli_n_commands; i++) {
    write_options(out, &cli_command[i]);
  }
  fputs("    esac ;;\n"
        "  esac\n"
        "  if [[ -n $words ]]; then\n"
        "    mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
        "  fi\n"
        "}\n"
        "complete -o default -F _countwright countwright # file names where there is nothing else to say\n",
        out);
}
