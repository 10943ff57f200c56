// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/day.h"

#include <string.h>

#include "cli/talk.h"
#include "cli/write.h"

#define LONG 2.0 // times as long as the dance: then it may be in there somewhere

const char *cli_day_problem(const CliArgs *args)
{
  const CliValue *value = args->value;
  if (!value[CLI_RUNS].given) {
    return NULL;
  }
  if (value[CLI_RUN].given) {
    return "'--runs' and '--run' exclude each other";
  }
  if (value[CLI_LIST].given || value[CLI_PINNED].given || value[CLI_LINE].given) {
    return "'--runs' carries nothing: '--run N' goes with '--list', '--pinned' and '--line'";
  }
  for (size_t i = 0; i < args->n_outputs; i++) {
    const char *path = args->output[i];
    if (strcmp(path, "-") != 0 && !cli_ends_with(path, ".txt") && !cli_ends_with(path, ".json")) {
      return "with '--runs' a file ends in .txt or .json";
    }
  }
  return NULL;
}

static int align_run(const CliArgs *args, const CwAlignFeatures *dance, const CwAlignFeatures *day, CwTimeMap *map)
{
  const char *path = args->operand[1];
  const size_t wanted = (size_t)args->value[CLI_RUN].number;
  CwDayRuns runs;
  CwStatus status = cw_day_search(dance, day, cli_report(path), &runs);
  if (status == CW_OK && wanted > runs.n) {
    cli_say(path, "the dance was run %zu time%s in it; '--runs' prints when", runs.n, runs.n == 1 ? "" : "s");
    cw_day_runs_free(&runs);
    return CLI_FAILED;
  }
  if (status == CW_OK) {
    status = cw_day_align(dance, day, &runs.run[wanted - 1], cli_report(path), map);
  }
  cw_day_runs_free(&runs);
  return status == CW_OK ? CLI_GOOD : cli_say_status(path, status);
}

int cli_day_align(const CliArgs *args, const CwAlignFeatures *dance, const CwAlignFeatures *day, CwTimeMap *map)
{
  const char *path = args->operand[1];
  *map = (CwTimeMap){0};
  if (args->value[CLI_RUN].given) {
    return align_run(args, dance, day, map);
  }
  const CwStatus status = cw_align(dance, day, cli_report(path), map);
  const double length_s = cw_align_features_duration(day);
  if (status == CW_ERR_OTHER_MUSIC && length_s > LONG * cw_align_features_duration(dance)) {
    cli_say(path, "if the dance is only a part of it, '--runs' seeks that");
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(path, status);
}
