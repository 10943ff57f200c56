// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/found.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/talk.h"
#include "cli/taps.h"
#include "cli/text.h"
#include "countwright/lineup.h"
#include "countwright/phrases.h"

static CwStatus read_features(const char *recording, CliFound *found)
{
  return found->features.n_frames ? CW_OK : cw_features_read(recording, cli_report(recording), &found->features);
}

static CwEarChoice ear_of(const CliArgs *args)
{
  const char *ear = args->value[CLI_EAR].text;
  return !ear ? CW_EAR_USUAL : strcmp(ear, "learned") == 0 ? CW_EAR_LEARNED : CW_EAR_PLAIN;
}

/// What a metre such as "3" or "6/8" says. @param metre NULL when it is not known.
static CwBeatOptions beat_options(const char *metre)
{
  CwBeatOptions options = {0};
  if (metre) {
    char *unit = NULL;
    options.metre = (unsigned)strtoul(metre, &unit, 10);
    options.dotted = strcmp(unit, "/8") == 0 && options.metre > 3;
    options.metre /= options.dotted ? 3 : 1;
  }
  return options;
}

static CwStatus find_tapped(const char *recording, const CwBeatOptions *options, CliFound *found)
{
  CwTapsFound tapped;
  const CwStatus status =
      cw_beats_by_taps(&found->features, &found->taps, options, cli_report(recording), &found->beats, &tapped);
  if (status == CW_OK) {
    cli_say_taps(recording, &tapped);
  }
  return status;
}

CwStatus cli_find_beats(const CliArgs *args, const char *recording, CliFound *found)
{
  const char *tracker = args->value[CLI_TRACKER].text;
  if (tracker && strcmp(tracker, "aubio") == 0) {
    return cw_beats_by_aubio(recording, cli_report(recording), &found->beats);
  }
  CwBeatOptions options = beat_options(args->value[CLI_METRE].text);
  options.ear = ear_of(args);
  if (args->value[CLI_LEAVE_OUT].given) {
    cw_cues_parse(args->value[CLI_LEAVE_OUT].text, &options.left_out); // understood before
  }
  const CwStatus status = read_features(recording, found);
  if (status == CW_OK && args->value[CLI_TAPS].given) {
    return find_tapped(recording, &options, found);
  }
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

static bool has_pins(const CwNotebook *notebook)
{
  bool any = !isnan(notebook->head.first_one_s);
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    any = any || notebook->phrase[p].n_pins > 0;
  }
  return any;
}

/// Whether the notes' pins are times in another recording than this one: the one that their head names.
static bool pins_are_elsewhere(const CwNotebook *notebook, const char *recording)
{
  const char *named = notebook->head.recording;
  return named && strcmp(cli_base_name(named), cli_base_name(recording)) != 0 && has_pins(notebook);
}

CwStatus cli_line_up(const CliArgs *args, const char *recording, const CwNotebook *notebook, CliFound *found,
                     CwMessages *messages)
{
  CwTapsFound tapped = {0};
  const CwLineupOptions options = {.beats_per_count = args->value[CLI_BEATS_PER_COUNT].number,
                                   .ear = ear_of(args),
                                   .without_pins = pins_are_elsewhere(notebook, recording),
                                   .evidence = &found->evidence,
                                   .taps = args->value[CLI_TAPS].given ? &found->taps : NULL,
                                   .taps_on = cli_taps_on(args),
                                   .found = &tapped};
  CwStatus status = read_features(recording, found);
  if (status == CW_OK && options.without_pins) {
    status = cw_messages_add(messages, "the pins are times in '%s' and are left out for '%s'",
                             cli_base_name(notebook->head.recording), cli_base_name(recording));
  }
  if (status == CW_OK) {
    status = cw_lineup(&found->features, notebook, &options, cli_report(recording), &found->line, messages);
  }
  if (status == CW_OK && options.taps) {
    cli_say_taps(recording, &tapped);
  }
  return status;
}

CwStatus cli_fit(const CliArgs *args, const char *recording, const CwNotebook *notebook, CliFound *found,
                 CwMessages *messages, CwFits *fits)
{
  const CwLineupOptions options = {.beats_per_count = args->value[CLI_BEATS_PER_COUNT].number,
                                   .ear = ear_of(args),
                                   .without_pins = pins_are_elsewhere(notebook, recording)};
  *fits = (CwFits){0};
  const CwStatus status = read_features(recording, found);
  return status == CW_OK
             ? cw_fits_find(&found->features, notebook, &options, cli_report(recording), &found->line, messages, fits)
             : status;
}

void cli_found_free(CliFound *found)
{
  cw_features_free(&found->features);
  cw_beats_free(&found->beats);
  cw_count_line_free(&found->line);
  cw_taps_free(&found->taps);
}
