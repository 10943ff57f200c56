// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/found.h"

#include <stdlib.h>
#include <string.h>

#include "cli/talk.h"
#include "countwright/lineup.h"
#include "countwright/phrases.h"

static CwStatus read_features(const char *recording, CliFound *found)
{
  return found->features.n_frames ? CW_OK : cw_features_read(recording, cli_report(recording), &found->features);
}

CwStatus cli_find_beats(const CliArgs *args, const char *recording, CliFound *found)
{
  const char *tracker = args->value[CLI_TRACKER].text;
  if (tracker && strcmp(tracker, "aubio") == 0) {
    return cw_beats_by_aubio(recording, cli_report(recording), &found->beats);
  }
  const char *metre = args->value[CLI_METRE].text;
  const CwBeatOptions options = {.metre = metre ? (unsigned)strtoul(metre, NULL, 10) : 0};
  const CwStatus status = read_features(recording, found);
  return status == CW_OK ? cw_beats_find(&found->features, &options, cli_report(recording), &found->beats) : status;
}

CwStatus cli_find_counts(const CliArgs *args, const char *recording, CliFound *found)
{
  CwStatus status = cli_find_beats(args, recording, found);
  if (status == CW_OK) {
    status = read_features(recording, found);
  }
  const CwPhraseOptions options = {.beats_per_count = args->value[CLI_BEATS_PER_COUNT].number};
  return status == CW_OK ? cw_phrases_find(&found->features, &found->beats, &options, &found->line) : status;
}

CwStatus cli_line_up(const CliArgs *args, const char *recording, const CwNotebook *notebook, CliFound *found,
                     CwMessages *messages)
{
  const CwLineupOptions options = {.beats_per_count = args->value[CLI_BEATS_PER_COUNT].number};
  const CwStatus status = read_features(recording, found);
  return status == CW_OK
             ? cw_lineup(&found->features, notebook, &options, cli_report(recording), &found->line, messages)
             : status;
}

void cli_found_free(CliFound *found)
{
  cw_features_free(&found->features);
  cw_beats_free(&found->beats);
  cw_count_line_free(&found->line);
}
