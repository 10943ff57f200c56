// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdint.h>
#include <stdlib.h>

#include "base/memory.h"
#include "cli/day.h"
#include "cli/found.h"
#include "cli/kept.h"
#include "cli/origin.h"
#include "cli/page.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "cli/write.h"
#include "countwright/align.h"
#include "countwright/drift.h"
#include "countwright/repin.h"

/// What is carried, and what comes of it.
typedef struct {
  CwCache *cache; ///< may be NULL
  CliOrigin origin;
  CliFound found; ///< in the notes' own recording
  CwTimeMap map;
  CwDayRuns runs; ///< of a day, where they are asked for
  double day_s;
  CwCountLine line; ///< in the other one
  size_t *kept;
  size_t *number; ///< of each phrase of the line
  CwMessages messages;
  CwSheet sheet;
  CliOutputs sheets;
  CliOutputs copies;
  CliOutputs lines;
} Job;

/// Line the notes up with their recording, and follow its music into the other.
static int follow(const CliArgs *args, Job *job)
{
  const char *from = job->origin.recording;
  const char *to = args->operand[1];
  CwAlignFeatures *a = NULL;
  CwAlignFeatures *b = NULL;
  CwStatus status = cw_measure(from, job->cache, cli_report(from), &job->found.features, &a); // read once for both
  if (status == CW_OK) {
    status = cli_line_up(args, from, &job->origin.notebook, &job->found, &job->messages);
  }
  const char *subject = status == CW_OK ? to : from;
  if (status == CW_OK) {
    cw_features_free(&job->found.features);
    status = cw_measure(to, job->cache, cli_report(to), NULL, &b);
  }
  int result = status == CW_OK ? CLI_GOOD : cli_say_status(subject, status);
  if (result == CLI_GOOD && args->value[CLI_RUNS].given) {
    status = cw_day_search(a, b, cli_report(to), &job->runs);
    job->day_s = cw_align_features_duration(b);
    result = status == CW_OK ? CLI_GOOD : cli_say_status(to, status);
  } else if (result == CLI_GOOD) {
    result = cli_day_align(args, a, b, &job->map);
  }
  cw_align_features_free(a);
  cw_align_features_free(b);
  return result;
}

/// Say what the other recording has otherwise.
static CwStatus tell(const CliArgs *args, Job *job)
{
  CwDriftOther other = {.name = cli_base_name(args->operand[1]), .map = &job->map};
  const CwDriftTable table = {.name = cli_base_name(job->origin.recording), .other = &other, .n = 1};
  CwStatus status = cw_drift_by_map(&job->found.line, &job->map, &other.drift);
  if (status == CW_OK) {
    status = cw_drift_structure(&table, &job->messages);
  }
  cw_drift_free(&other.drift);
  return status;
}

/// The number of each phrase that was carried.
static void number_phrases(Job *job)
{
  for (size_t p = 0; p < job->found.line.n_phrases; p++) {
    if (job->kept[p] != SIZE_MAX) {
      job->number[job->kept[p]] = p + 1;
    }
  }
}

static CwStatus carry_line(const CliArgs *args, Job *job)
{
  const CwNotebook *notebook = &job->origin.notebook;
  job->kept = cw_new(notebook->n_phrases + 1, sizeof *job->kept);
  job->number = cw_new(notebook->n_phrases + 1, sizeof *job->number);
  if (!job->kept || !job->number) {
    return CW_ERR_NO_MEM;
  }
  for (size_t p = 0; p < notebook->n_phrases; p++) { // the notes may be longer than the music
    job->kept[p] = SIZE_MAX;
  }
  CwStatus status = cw_carry(&job->found.line, &job->map, &job->line, job->kept);
  if (status == CW_OK) {
    number_phrases(job);
    status = tell(args, job);
  }
  return status;
}

static int carry(const CliArgs *args, Job *job)
{
  const char *to = args->operand[1];
  CwStatus status = carry_line(args, job);
  if (status == CW_OK) {
    status = cw_sheet_build_carried(cli_origin_words(&job->origin), &job->line, job->kept, cli_base_name(to),
                                    &job->messages, &job->sheet);
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(to, status);
}

/// Write the copy with pins. @return CLI_GOOD or CLI_FAILED.
static int write_copy(const CliArgs *args, Job *job)
{
  const char *path = args->value[CLI_PINNED].text;
  char *recording = cli_name_beside(args->operand[1], path);
  char *origin = cli_name_beside(job->origin.path, path);
  CliContent content = {0};
  char *text = NULL;
  size_t size = 0;
  CwMessages messages = {0};
  CwStatus status = CW_ERR_NO_MEM;
  if (recording && origin) {
    const CwRepin repin = {&job->line, job->kept, recording, origin};
    status = cw_notebook_repin(cli_origin_words(&job->origin), &repin, &text, &size, &messages);
  }
  cli_say_all(path, &messages);
  content.text = text;
  content.text_size = size;
  const int result = status == CW_OK            ? cli_outputs_write(args, cli_text_forms, &job->copies, &content)
                     : status == CW_ERR_BAD_ARG ? CLI_FAILED
                                                : cli_say_status(path, status);
  if (status == CW_ERR_BAD_ARG) {
    cli_say(path, "these notes cannot be written with pins; '--line' has the times of all counts");
  }
  cw_messages_free(&messages);
  free(text);
  free(recording);
  free(origin);
  return result;
}

static int write_all(const CliArgs *args, Job *job)
{
  const CliValue *value = args->value;
  if (cli_take_page(args, &job->sheet) != CLI_GOOD) {
    return CLI_FAILED;
  }
  CliContent content = {.line = &job->line,
                        .number = job->number,
                        .recording = cli_base_name(args->operand[1]),
                        .sheet = &job->sheet,
                        .notebook = cli_origin_words(&job->origin),
                        .beats_per_count = value[CLI_BEATS_PER_COUNT].number,
                        .page = cli_page(args)};
  const bool other = value[CLI_PINNED].given || value[CLI_LINE].given;
  if (job->sheets.n > 0 || other || value[CLI_LIST].given || value[CLI_JSON].given) {
    cli_say_all(args->operand[1], &job->messages); // a sheet on standard output says them itself
  }
  int result = value[CLI_PINNED].given ? write_copy(args, job) : CLI_GOOD;
  if (result == CLI_GOOD) {
    result = cli_outputs_write(args, cli_line_forms, &job->lines, &content);
  }
  if (result == CLI_GOOD && (job->sheets.n > 0 || !other || value[CLI_LIST].given || value[CLI_JSON].given)) {
    result = cli_write_all(args, cli_sheet_forms, &job->sheets, &content);
  }
  return result;
}

static int write_runs(const CliArgs *args, Job *job)
{
  const CwDayTable table = {cli_base_name(job->origin.recording), cli_base_name(args->operand[1]), job->day_s,
                            &job->found.line, &job->runs};
  CliContent content = {.day = &table};
  cli_say_all(args->operand[0], &job->messages);
  return cli_write_all(args, cli_day_forms, &job->sheets, &content);
}

/// Whether nothing that is read would be written over.
static bool spares_inputs(const Job *job)
{
  const CliOutputs *const outputs[] = {&job->sheets, &job->copies, &job->lines};
  for (size_t i = 0; i < 3; i++) {
    if (!cli_outputs_spare(outputs[i], job->origin.path) || !cli_outputs_spare(outputs[i], job->origin.recording)) {
      return false;
    }
  }
  return true;
}

static int run(const CliArgs *args, Job *job)
{
  const CliValue *pinned = &args->value[CLI_PINNED];
  const CliValue *line = &args->value[CLI_LINE];
  if (!cli_outputs_begin(args, args->output, args->n_outputs, &job->sheets) ||
      !cli_outputs_begin(args, &pinned->text, pinned->given, &job->copies) ||
      !cli_outputs_begin(args, &line->text, line->given, &job->lines) ||
      cli_origin_find(args, &job->origin) != CLI_GOOD || !spares_inputs(job)) {
    return CLI_FAILED;
  }
  if (follow(args, job) != CLI_GOOD) {
    return CLI_FAILED;
  }
  if (args->value[CLI_RUNS].given) {
    return write_runs(args, job);
  }
  return carry(args, job) == CLI_GOOD ? write_all(args, job) : CLI_FAILED;
}

int cli_carry(const CliArgs *args)
{
  const char *problem = cli_day_problem(args);
  if (problem) {
    return cli_say_usage(args->command, problem);
  }
  Job job = {.cache = cli_cache_open(args)};
  const int result = run(args, &job);
  cw_cache_free(job.cache);
  cli_outputs_cancel(&job.sheets);
  cli_outputs_cancel(&job.copies);
  cli_outputs_cancel(&job.lines);
  cw_sheet_free(&job.sheet);
  cw_messages_free(&job.messages);
  cw_count_line_free(&job.line);
  cw_time_map_free(&job.map);
  cw_day_runs_free(&job.runs);
  cli_found_free(&job.found);
  cli_origin_free(&job.origin);
  free(job.kept);
  free(job.number);
  return result;
}
