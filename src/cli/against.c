// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/against.h"

#include "cli/kept.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "countwright/align.h"
#include "countwright/drift.h"

CwStatus cli_measure_for_both(const CliArgs *args, const char *recording, CliFound *found, CwAlignFeatures **features)
{
  if (!args->value[CLI_AGAINST].given) {
    return CW_OK;
  }
  CwCache *cache = cli_cache_open(args);
  const CwStatus status = cw_measure(recording, cache, cli_report(recording), &found->features, features);
  cw_cache_free(cache);
  return status;
}

/// Put drift on the sheet, and what the other recording has otherwise into its messages.
static CwStatus put_other(const char *recording, const char *name, const CwTimeMap *map, const CliFound *found,
                          CwSheet *sheet)
{
  CwDriftOther other = {.name = name, .map = map};
  const CwDriftTable table = {.name = cli_base_name(recording), .other = &other, .n = 1};
  CwStatus status = cw_drift_by_map(&found->line, map, &other.drift);
  if (status == CW_OK) {
    status = cw_sheet_compare(sheet, &other.drift, name);
  }
  if (status == CW_OK) {
    status = cw_drift_structure(&table, &sheet->message);
  }
  cw_drift_free(&other.drift);
  return status;
}

int cli_take_other(const CliArgs *args, const char *recording, const CliFound *found, const CwAlignFeatures *features,
                   CwSheet *sheet)
{
  const char *other = args->value[CLI_AGAINST].text;
  if (!other) {
    return CLI_GOOD;
  }
  if (!features) {
    cli_say(args->operand[0], "no recording is named, so there is nothing to hold against '%s'", other);
    return CLI_FAILED;
  }
  CwCache *cache = cli_cache_open(args);
  CwAlignFeatures *there = NULL;
  CwTimeMap map = {0};
  CwStatus status = cw_measure(other, cache, cli_report(other), NULL, &there);
  if (status == CW_OK) {
    status = cw_align(features, there, cli_report(other), &map);
  }
  if (status == CW_OK) {
    status = put_other(recording, cli_base_name(other), &map, found, sheet);
  }
  cw_time_map_free(&map);
  cw_align_features_free(there);
  cw_cache_free(cache);
  return status == CW_OK ? CLI_GOOD : cli_say_status(other, status);
}

const char *cli_against_problem(const CliArgs *args)
{
  return args->value[CLI_AGAINST].given && args->value[CLI_BY_LINE].given
             ? "'--against' follows the music, and '--line' does not listen to it"
             : NULL;
}
