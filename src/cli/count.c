// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "cli/found.h"
#include "cli/level.h"
#include "cli/page.h"
#include "cli/talk.h"
#include "cli/taps.h"
#include "cli/text.h"
#include "cli/write.h"
#include "countwright/cues.h"

static int write_sheet(const CliArgs *args, const CliFound *found, CliOutputs *outputs)
{
  const char *recording = args->operand[0];
  CwSheet sheet = {0};
  const CwStatus status = cw_sheet_build(NULL, &found->line, cli_base_name(recording), NULL, &sheet);
  if (status != CW_OK) {
    return cli_say_status(recording, status);
  }
  if (cli_take_page(args, &sheet) != CLI_GOOD) {
    return CLI_FAILED;
  }
  CliContent content = {.beats = &found->beats, .line = &found->line, .sheet = &sheet, .page = cli_page(args)};
  const int result = cli_write_all(args, cli_sheet_forms, outputs, &content);
  cw_sheet_free(&sheet);
  return result;
}

static int find_and_write(const CliArgs *args, CliOutputs *outputs)
{
  const char *list = args->value[CLI_LIST].text;
  const bool only_beats = list && strcmp(list, "beats") == 0 && outputs->n == 0;
  const char *recording = args->operand[0];
  CliFound found = {0};
  if (cli_read_taps(args, &found.taps) != CLI_GOOD) {
    return CLI_FAILED;
  }
  const CwStatus status =
      only_beats ? cli_find_beats(args, recording, &found) : cli_find_counts(args, recording, &found);
  int result = CLI_FAILED;
  if (status != CW_OK) {
    cli_say_status(recording, status);
  } else if (only_beats) {
    CliContent content = {.beats = &found.beats};
    result = cli_write_out(args, cli_list_writer(list), &content);
  } else {
    result = write_sheet(args, &found, outputs);
    if (result == CLI_GOOD && !args->value[CLI_BEATS_PER_COUNT].given) {
      result = cli_say_level(recording, &found.line, "--beats-per-count");
    }
  }
  cli_found_free(&found);
  return result;
}

static int list_cues(void)
{
  for (size_t i = 0; cw_cue_name(i); i++) {
    puts(cw_cue_name(i));
  }
  return CLI_GOOD;
}

static const char *find_problem(const CliArgs *args)
{
  const char *tracker = args->value[CLI_TRACKER].text;
  if (args->value[CLI_LEAVE_OUT].given && tracker && strcmp(tracker, "aubio") == 0) {
    return "'--leave-out' is nothing to aubio";
  }
  if (args->value[CLI_EAR].given && tracker && strcmp(tracker, "aubio") == 0) {
    return "'--ear' is nothing to aubio";
  }
  return cli_taps_problem(args);
}

int cli_count(const CliArgs *args)
{
  if (cli_lists_cues(args)) {
    return list_cues();
  }
  const char *problem = find_problem(args);
  if (problem) {
    return cli_say_usage(args->command, problem);
  }
  CliOutputs outputs = {0};
  if (!cli_outputs_begin(args, args->output, args->n_outputs, &outputs)) {
    return CLI_FAILED;
  }
  const int result = find_and_write(args, &outputs);
  cli_outputs_cancel(&outputs);
  return result;
}
