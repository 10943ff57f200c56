// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cli/at.h"
#include "cli/found.h"
#include "cli/kept.h"
#include "cli/passage.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "cli/write.h"
#include "countwright/align.h"
#include "countwright/drift.h"

/// The recordings and what comes of them.
typedef struct {
  CwCache *cache; ///< may be NULL
  CwNotebook notebook;
  CliFound first;
  CwAlignFeatures *features; ///< of the first
  CwDriftOther *other;       ///< `n_others`: those that could be compared
  CwTimeMap *map;            ///< one for each of them
  size_t n_others;
  const char **section;
  CwMessages summary;
  CliTimes times;
  CliOutputs tables;
  CliOutputs charts;
  bool left_out; ///< some recording could not be compared
} Job;

/// Follow the first recording's music into another.
static CwStatus follow(const Job *job, const char *recording, CwTimeMap *map)
{
  CwAlignFeatures *features = NULL;
  CwStatus status = cw_measure(recording, job->cache, cli_report(recording), NULL, &features);
  if (status == CW_OK) {
    status = cw_align(job->features, features, cli_report(recording), map);
  }
  cw_align_features_free(features);
  return status;
}

/// Find the counts of a recording, by the notes where there are any.
static CwStatus count(const CliArgs *args, const char *recording, const CwNotebook *notebook, CliFound *found)
{
  CwMessages messages = {0};
  const CwStatus status = args->value[CLI_NOTES].given ? cli_line_up(args, recording, notebook, found, &messages)
                                                       : cli_find_counts(args, recording, found);
  cli_say_all(recording, &messages);
  cw_messages_free(&messages);
  return status;
}

static CwStatus compare_own(const CliArgs *args, const char *recording, const Job *job, CwDriftOther *other)
{
  CliFound found = {0};
  CwStatus status = cw_measure(recording, job->cache, cli_report(recording), &found.features, NULL);
  if (status == CW_OK) {
    status = count(args, recording, &job->notebook, &found);
  }
  if (status == CW_OK) {
    status = cw_drift_by_lines(&job->first.line, &found.line, &other->drift);
  }
  cli_found_free(&found);
  return status;
}

/// Compare one recording with the first. Says what goes wrong; with others left, one that cannot be compared is left
/// out. @return CLI_GOOD or CLI_FAILED: no reason to go on.
static int compare_one(const CliArgs *args, const char *recording, Job *job)
{
  CwDriftOther *other = &job->other[job->n_others];
  CwTimeMap *map = &job->map[job->n_others];
  *other = (CwDriftOther){.name = cli_base_name(recording)};
  CwStatus status = CW_OK;
  if (args->value[CLI_OWN_COUNTS].given) {
    status = compare_own(args, recording, job, other);
  } else {
    status = follow(job, recording, map);
    other->map = map;
    if (status == CW_OK) {
      status = cw_drift_by_map(&job->first.line, map, &other->drift);
    }
  }
  if (status == CW_OK) {
    job->n_others++;
    return CLI_GOOD;
  }
  cw_time_map_free(map);
  cli_say_status(recording, status);
  job->left_out = true;
  return args->n_operands > 2 && status != CW_ERR_NO_MEM && status != CW_ERR_CANCELLED ? CLI_GOOD : CLI_FAILED;
}

/// Leave out what is not asked for, and tell the rest in words.
static int tell(const CliArgs *args, Job *job, CwDriftTable *table)
{
  size_t first = 0;
  size_t last = 0;
  const size_t n = job->first.line.n_phrases;
  job->section = cli_sections(&job->notebook, n);
  if (!job->section) {
    return cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  if (!cli_passage(args, job->section, n, &first, &last)) {
    return CLI_FAILED;
  }
  for (size_t o = 0; o < job->n_others && n > 0; o++) {
    cw_drift_keep(&job->other[o].drift, first, last);
  }
  *table = (CwDriftTable){.name = cli_base_name(args->operand[0]),
                          .other = job->other,
                          .n = job->n_others,
                          .section = job->section + first,
                          .summary = &job->summary};
  const CwStatus status = cw_drift_summary(table, &job->summary);
  return status == CW_OK ? CLI_GOOD : cli_say_status(NULL, status);
}

static int compare(const CliArgs *args, Job *job)
{
  const char *first = args->operand[0];
  const size_t n = args->n_operands - 1;
  job->other = cw_new(n, sizeof *job->other);
  job->map = cw_new(n, sizeof *job->map);
  CwAlignFeatures **features = args->value[CLI_OWN_COUNTS].given ? NULL : &job->features;
  CwStatus status = CW_ERR_NO_MEM;
  if (job->other && job->map) { // read once for both
    status = cw_measure(first, job->cache, cli_report(first), &job->first.features, features);
  }
  if (status == CW_OK) {
    status = count(args, first, &job->notebook, &job->first);
  }
  if (status != CW_OK) {
    return cli_say_status(first, status);
  }
  for (size_t i = 1; i <= n; i++) {
    if (compare_one(args, args->operand[i], job) != CLI_GOOD) {
      return CLI_FAILED;
    }
  }
  return job->n_others > 0 ? CLI_GOOD : CLI_FAILED;
}

static int write_drift(const CliArgs *args, Job *job)
{
  CwDriftTable table;
  if (tell(args, job, &table) != CLI_GOOD) {
    return CLI_FAILED;
  }
  CliContent content = {.table = &table};
  const int result = cli_outputs_write(args, cli_chart_forms, &job->charts, &content);
  return result == CLI_GOOD ? cli_write_all(args, cli_drift_forms, &job->tables, &content) : result;
}

static CwStatus write_times(const CliContent *content, FILE *out)
{
  return cli_write_times(content->times, content->map, out);
}

static int carry_times(const CliArgs *args, Job *job)
{
  if (cli_read_times(args->value[CLI_AT].text, &job->times) != CLI_GOOD) {
    return CLI_FAILED;
  }
  CwTimeMap map = {0};
  CwStatus status = cw_measure(args->operand[0], job->cache, cli_report(args->operand[0]), NULL, &job->features);
  if (status != CW_OK) {
    return cli_say_status(args->operand[0], status);
  }
  status = follow(job, args->operand[1], &map);
  CliContent content = {.times = &job->times, .map = &map};
  const int result =
      status == CW_OK ? cli_write_out(args, write_times, &content) : cli_say_status(args->operand[1], status);
  cw_time_map_free(&map);
  return result;
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
  const int result = compare(args, job) == CLI_GOOD ? write_drift(args, job) : CLI_FAILED;
  return job->left_out ? CLI_FAILED : result;
}

static void release(Job *job)
{
  cli_outputs_cancel(&job->tables);
  cli_outputs_cancel(&job->charts);
  for (size_t o = 0; o < job->n_others; o++) {
    cw_drift_free(&job->other[o].drift);
    cw_time_map_free(&job->map[o]);
  }
  free(job->other);
  free(job->map);
  free(job->section);
  cli_found_free(&job->first);
  cw_align_features_free(job->features);
  cw_cache_free(job->cache);
  cw_messages_free(&job->summary);
  cw_notebook_free(&job->notebook);
  free(job->times.time_s);
}

static const char *usage_problem(const CliArgs *args)
{
  const CliValue *value = args->value;
  if (value[CLI_AT].given &&
      (value[CLI_CHART].given || value[CLI_OWN_COUNTS].given || value[CLI_NOTES].given || args->n_outputs > 0)) {
    return "'--at' prints times alone, without tables, charts or notes";
  }
  if (value[CLI_AT].given && args->n_operands > 2) {
    return "'--at' takes two recordings";
  }
  if (value[CLI_SECTION].given && !value[CLI_NOTES].given) {
    return "'--section' needs '--notes', which have the headings";
  }
  if (value[CLI_SECTION].given && value[CLI_PHRASES].given) {
    return "'--phrases' and '--section' exclude each other";
  }
  return NULL;
}

int cli_drift(const CliArgs *args)
{
  const char *problem = usage_problem(args);
  if (problem) {
    return cli_say_usage(args->command, problem);
  }
  Job job = {.cache = cli_cache_open(args)};
  const int result = run(args, &job);
  release(&job);
  return result;
}
