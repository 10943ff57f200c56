// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/cast.h"

#include <string.h>

#include "cli/talk.h"

static CwStatus cast_text(const CliContent *content, FILE *out)
{
  return cw_cast_text(&content->sheet->cast, content->sheet->labels, content->columns, out);
}

static CwStatus cast_json(const CliContent *content, FILE *out)
{
  return cw_cast_json(&content->sheet->cast, out);
}

static const CliForm cast_forms[] = {{".txt", cast_text}, {".json", cast_json}, {NULL, NULL}};

const char *cli_cast_problem(const CliArgs *args)
{
  if (!args->value[CLI_ENTRANCES].given) {
    return NULL;
  }
  if (args->value[CLI_LIST].given) {
    return "'--entrances' and '--list' cannot be asked for together";
  }
  for (size_t i = 0; i < args->n_outputs; i++) {
    if (cli_ends_with(args->output[i], ".pdf") || cli_ends_with(args->output[i], ".csv")) {
      return "with '--entrances' a file ends in .txt or .json";
    }
  }
  return NULL;
}

int cli_spread(const CliArgs *args, const char *notes, CwNotebook *notebook)
{
  if (!args->value[CLI_SPREAD].given) {
    return CLI_GOOD;
  }
  const CwStatus status = cw_notebook_spread(notebook);
  return status == CW_OK ? CLI_GOOD : cli_say_status(notes, status);
}

/// The roles that there are, cut to `size`.
static void join_roles(const CwCast *cast, char *out, size_t size)
{
  size_t length = 0;
  for (size_t i = 0; i < cast->n_roles && length < size; i++) {
    const int n =
        snprintf(out + length, size - length, "%s%s", i ? ", " : "", cast->role[i].role ? cast->role[i].role : "");
    length += n > 0 ? (size_t)n : 0;
  }
}

int cli_take_role(const CliArgs *args, const char *notes, CwSheet *sheet)
{
  const CliValue *role = &args->value[CLI_ROLE];
  const CliValue *warm = &args->value[CLI_WARM];
  if (warm->given) {
    cw_cast_remind(&sheet->cast, warm->number * 60);
  }
  if (!role->given) {
    return CLI_GOOD;
  }
  bool found = false;
  const CwStatus status = cw_sheet_keep_role(sheet, role->text, &found);
  if (status != CW_OK) {
    return cli_say_status(notes, status);
  }
  if (!found) {
    char roles[200] = "none";
    join_roles(&sheet->cast, roles, sizeof roles);
    cli_say(notes, "no role '%s' is named; those named: %s", role->text, roles);
  }
  return found ? CLI_GOOD : CLI_FAILED;
}

const CliForm *cli_forms_of_sheet(const CliArgs *args)
{
  return args->value[CLI_ENTRANCES].given ? cast_forms : cli_sheet_forms;
}
