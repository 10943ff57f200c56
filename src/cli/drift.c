// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>

#include "cli/at.h"
#include "cli/found.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "cli/write.h"
#include "countwright/align.h"
#include "countwright/drift.h"

/// The two recordings and what comes of them.
typedef struct {
  CwNotebook notebook;
  CliFound found[2];
  CwAlignFeatures *features[2];
  CwTimeMap map;
  CwDrift drift;
  CwMessages summary;
  CliTimes times;
  CliOutputs tables;
  CliOutputs charts;
} Job;

/// Find the time map. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int align(const CliArgs *args, Job *job)
{
  for (size_t i = 0; i < 2; i++) {
    const char *recording = args->operand[i];
    const CwStatus status = cw_align_features_read(recording, cli_report(recording), &job->features[i]);
    if (status != CW_OK) {
      return cli_say_status(recording, status);
    }
  }
  const char *b = args->operand[1];
  const CwStatus status = cw_align(job->features[0], job->features[1], cli_report(b), &job->map);
  return status == CW_OK ? CLI_GOOD : cli_say_status(b, status);
}

/// Find the counts of recording `i`, by the notes where there are any. @return CLI_GOOD or CLI_FAILED.
static int count(const CliArgs *args, size_t i, Job *job)
{
  const char *recording = args->operand[i];
  CwMessages messages = {0};
  const CwStatus status = args->value[CLI_NOTES].given
                              ? cli_line_up(args, recording, &job->notebook, &job->found[i], &messages)
                              : cli_find_counts(args, recording, &job->found[i]);
  cli_say_all(recording, &messages);
  cw_messages_free(&messages);
  return status == CW_OK ? CLI_GOOD : cli_say_status(recording, status);
}

static int compare(const CliArgs *args, Job *job)
{
  const bool own = args->value[CLI_OWN_COUNTS].given;
  if (count(args, 0, job) != CLI_GOOD || (own ? count(args, 1, job) : align(args, job)) != CLI_GOOD) {
    return CLI_FAILED;
  }
  const CwCountLine *a = &job->found[0].line;
  CwStatus status =
      own ? cw_drift_by_lines(a, &job->found[1].line, &job->drift) : cw_drift_by_map(a, &job->map, &job->drift);
  if (status == CW_OK) {
    status = cw_drift_summary(&job->drift, own ? NULL : &job->map, &job->summary);
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(args->operand[1], status);
}

static int write_drift(const CliArgs *args, Job *job)
{
  const CwDriftLabels labels = {cli_base_name(args->operand[0]), cli_base_name(args->operand[1]), &job->summary};
  CliContent content = {.drift = &job->drift, .labels = &labels};
  const int result = cli_outputs_write(args, cli_chart_forms, &job->charts, &content);
  return result == CLI_GOOD ? cli_write_all(args, cli_drift_forms, &job->tables, &content) : result;
}

static CwStatus write_times(const CliContent *content, FILE *out)
{
  return cli_write_times(content->times, content->map, out);
}

static int carry_times(const CliArgs *args, Job *job)
{
  if (cli_read_times(args->value[CLI_AT].text, &job->times) != CLI_GOOD || align(args, job) != CLI_GOOD) {
    return CLI_FAILED;
  }
  CliContent content = {.times = &job->times, .map = &job->map};
  return cli_write_out(args, write_times, &content);
}

static int run(const CliArgs *args, Job *job)
{
  if (args->value[CLI_AT].given) {
    return carry_times(args, job);
  }
  const CliValue *chart = &args->value[CLI_CHART];
  const CliValue *notes = &args->value[CLI_NOTES];
  if (!cli_outputs_begin(args, args->output, args->n_outputs, &job->tables) ||
      !cli_outputs_begin(args, &chart->text, chart->given, &job->charts)) {
    return CLI_FAILED;
  }
  const CwStatus status = notes->given ? cli_read_notes(notes->text, &job->notebook) : CW_OK;
  if (status != CW_OK) {
    return cli_say_status(notes->text, status);
  }
  return compare(args, job) == CLI_GOOD ? write_drift(args, job) : CLI_FAILED;
}

int cli_drift(const CliArgs *args)
{
  const CliValue *value = args->value;
  if (value[CLI_AT].given &&
      (value[CLI_CHART].given || value[CLI_OWN_COUNTS].given || value[CLI_NOTES].given || args->n_outputs > 0)) {
    return cli_say_usage(args->command, "'--at' prints times alone, without tables, charts or notes");
  }
  Job job = {0};
  const int result = run(args, &job);
  cli_outputs_cancel(&job.tables);
  cli_outputs_cancel(&job.charts);
  for (size_t i = 0; i < 2; i++) {
    cli_found_free(&job.found[i]);
    cw_align_features_free(job.features[i]);
  }
  cw_time_map_free(&job.map);
  cw_drift_free(&job.drift);
  cw_messages_free(&job.summary);
  cw_notebook_free(&job.notebook);
  free(job.times.time_s);
  return result;
}
