// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/sheet.h"

#include <stdlib.h>

#include "cli/against.h"
#include "cli/cast.h"
#include "cli/found.h"
#include "cli/glossary.h"
#include "cli/inside.h"
#include "cli/level.h"
#include "cli/line.h"
#include "cli/page.h"
#include "cli/side.h"
#include "cli/talk.h"
#include "cli/taps.h"
#include "cli/text.h"

/// The notes, the recording that they go with (NULL: none), and what comes of them.
typedef struct {
  CwNotebook notebook;
  CwMirrored mirrored; ///< the notes for the other side, when asked for
  char *recording;
  CliFound found;
  CwAlignFeatures *features; ///< to hold the recording against another one; NULL when that is not asked for
  CliLine line;              ///< to go by instead of listening, when asked for
  CwMessages messages;
  CwSheet sheet;
} Job;

/// Line the notes up with the recording, if there is one.
static CwStatus build_by_ear(const CliArgs *args, const char *recording, Job *job)
{
  CwStatus status = CW_OK;
  if (recording) {
    status = cli_measure_for_both(args, recording, &job->found, &job->features);
  }
  if (recording && status == CW_OK) {
    status = cli_line_up(args, recording, &job->notebook, &job->found, &job->messages);
  }
  if (status == CW_OK) {
    const char *shown = args->n_operands > 1 ? cli_base_name(recording) : NULL;
    status = cw_sheet_build(&job->notebook, recording ? &job->found.line : NULL, shown, &job->messages, &job->sheet);
    job->sheet.evidence = job->found.evidence;
  }
  return status;
}

/// Put the sheet together. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int build(const CliArgs *args, const char *recording, Job *job)
{
  const CliValue *by_line = &args->value[CLI_BY_LINE];
  CwStatus status = CW_OK;
  if (by_line->given) {
    if (cli_read_line(by_line->text, &job->notebook, &job->line, &job->messages) != CLI_GOOD) {
      return CLI_FAILED;
    }
    const CwCountLineFile *file = &job->line.file;
    status = cw_sheet_build_carried(&job->notebook, &file->line, job->line.kept, file->recording, &job->messages,
                                    &job->sheet);
  } else {
    status = build_by_ear(args, recording, job);
  }
  if (status == CW_OK) {
    status = cli_put_side(&job->mirrored, &job->sheet);
  }
  return status == CW_OK ? cli_take_role(args, args->operand[0], &job->sheet)
                         : cli_say_status(recording ? recording : args->operand[0], status);
}

/// Read the notes, find the recording, take the side and the spreading asked for. Says what goes wrong.
static int read_notes(const CliArgs *args, Job *job)
{
  const char *notes = args->operand[0];
  const bool needs_name = !args->value[CLI_BY_LINE].given || args->value[CLI_SOUND].given;
  CwStatus status = cli_read_notes(notes, &job->notebook);
  if (status == CW_OK && args->n_operands == 1 && needs_name) {
    status = cli_recording_of(&job->notebook, notes, &job->recording);
  }
  if (status != CW_OK) {
    return cli_say_status(notes, status);
  }
  const bool good = cli_write_mirrored(args, notes, &job->notebook) == CLI_GOOD &&
                    cli_take_side(args, notes, &job->notebook, &job->mirrored) == CLI_GOOD &&
                    cli_spread(args, notes, &job->notebook) == CLI_GOOD;
  return good ? CLI_GOOD : CLI_FAILED;
}

/// Whether there is all that the outputs need, and nothing that they would replace. Says what is wrong.
static bool can_write(const CliArgs *args, const char *recording, const CliOutputs *outputs)
{
  const bool inside = args->value[CLI_SOUND].given;
  const bool times = args->value[CLI_LIST].given || cli_outputs_have(outputs, ".mid");
  if (!recording && (inside || (times && !args->value[CLI_BY_LINE].given))) {
    cli_say(args->operand[0], "no recording is named, so there %s", inside ? "is none to put inside" : "are no times");
    return false;
  }
  return cli_outputs_spare(outputs, recording) && cli_outputs_spare(outputs, args->value[CLI_BY_LINE].text) &&
         cli_outputs_spare(outputs, args->value[CLI_AGAINST].text);
}

/// Look at the sheet and write it.
static int write_sheet(const CliArgs *args, const char *recording, Job *job, CliOutputs *outputs, CliLook look)
{
  const CwCountLine *line = args->value[CLI_BY_LINE].given ? &job->line.file.line : &job->found.line;
  CliContent content = {.line = line,
                        .number = job->line.file.number,
                        .sheet = &job->sheet,
                        .notebook = &job->notebook,
                        .beats_per_count = args->value[CLI_BEATS_PER_COUNT].number,
                        .page = cli_page(args)};
  bool write = true;
  int result = look(args, &content, &job->sheet, &write);
  if (result != CLI_GOOD || !write) {
    return result;
  }
  CliInside inside = {0};
  result = cli_take_inside(args, recording, &inside);
  content.sound = inside.bytes;
  content.sound_size = inside.size;
  content.sound_type = inside.type;
  if (result == CLI_GOOD) {
    result = cli_write_all(args, cli_forms_of_sheet(args), outputs, &content);
  }
  cli_inside_free(&inside);
  return result == CLI_GOOD ? cli_say_evidence(args->operand[0], line, &job->found.evidence) : result;
}

static int run(const CliArgs *args, Job *job, CliOutputs *outputs, CliLook look)
{
  if (read_notes(args, job) != CLI_GOOD) {
    return CLI_FAILED;
  }
  const char *notes = args->operand[0];
  const char *recording = args->n_operands > 1 ? args->operand[1] : job->recording;
  if (!can_write(args, recording, outputs) || cli_read_taps(args, &job->found.taps) != CLI_GOOD ||
      cli_spell(args, notes, &job->notebook) != CLI_GOOD || build(args, recording, job) != CLI_GOOD) {
    return CLI_FAILED;
  }
  if (outputs->n > 0 || args->value[CLI_LIST].given || args->value[CLI_JSON].given) {
    cli_say_all(notes, &job->messages); // a sheet on standard output says them itself
  }
  if (cli_take_other(args, recording, &job->found, job->features, &job->sheet) != CLI_GOOD ||
      cli_take_page(args, &job->sheet) != CLI_GOOD) {
    return CLI_FAILED;
  }
  return write_sheet(args, recording, job, outputs, look);
}

int cli_sheet_make(const CliArgs *args, CliOutputs *outputs, CliLook look)
{
  Job job = {0};
  const int result = run(args, &job, outputs, look);
  cli_outputs_cancel(outputs);
  cw_sheet_free(&job.sheet);
  cw_messages_free(&job.messages);
  cli_found_free(&job.found);
  cw_align_features_free(job.features);
  cli_line_free(&job.line);
  cw_notebook_free(&job.notebook);
  cw_mirrored_free(&job.mirrored);
  free(job.recording);
  return result;
}

const char *cli_sheet_problem(const CliArgs *args)
{
  const char *problem = cli_taps_problem(args);
  problem = problem ? problem : cli_line_problem(args);
  problem = problem ? problem : cli_cast_problem(args);
  return problem ? problem : cli_against_problem(args);
}

/// Tell how much a recording inside will take.
static int tell_size(const CliArgs *args, const CliContent *content, CwSheet *sheet, bool *write)
{
  (void)write;
  if (args->value[CLI_SOUND].given) {
    char told[64];
    cli_inside_told(args, content->line->duration_s, told);
    cli_say(sheet->recording, "goes inside the web sheet, where it takes %s", told);
  }
  return CLI_GOOD;
}

int cli_sheet(const CliArgs *args)
{
  const char *problem = cli_sheet_problem(args);
  problem = problem ? problem : cli_inside_problem(args, args->output, args->n_outputs);
  if (problem) {
    return cli_say_usage(args->command, problem);
  }
  CliOutputs outputs = {0};
  if (!cli_outputs_begin(args, args->output, args->n_outputs, &outputs)) {
    return CLI_FAILED;
  }
  return cli_sheet_make(args, &outputs, tell_size);
}
