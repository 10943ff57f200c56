// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/format.h"
#include "base/memory.h"
#include "cli/cast.h"
#include "cli/found.h"
#include "cli/kept.h"
#include "cli/line.h"
#include "cli/rehearse_options.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "countwright/align.h"
#include "countwright/drift.h"
#include "countwright/time_text.h"

/// What is practised, and what comes of it.
typedef struct {
  CwNotebook notebook;
  char *named; ///< the recording that the notes name
  const char *recording;
  CwCache *cache; ///< may be NULL
  CliFound found;
  CliLine by_line; ///< to go by instead of listening, when asked for
  const CwCountLine *line;
  const size_t *kept;
  CwMessages messages;
  CwSheet sheet;
  CwPassage *passage;
  CwCountLine like; ///< in the other recording
  size_t *like_kept;
  double speed[CLI_MOST_SPEEDS];
  CwPracticeOptions options;
  CwPractice *practice;
} Job;

/// Follow the music into the recording whose pace is asked for.
static CwStatus follow(const CliArgs *args, Job *job, CwAlignFeatures *own)
{
  const char *to = args->value[CLI_LIKE].text;
  CwAlignFeatures *other = NULL;
  CwTimeMap map = {0};
  size_t *kept = cw_new(job->line->n_phrases + 1, sizeof *kept);
  job->like_kept = cw_new(job->sheet.n_rows + 1, sizeof *job->like_kept);
  CwStatus status = kept && job->like_kept ? cw_measure(to, job->cache, cli_report(to), NULL, &other) : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = cw_align(own, other, cli_report(to), &map);
  }
  if (status == CW_OK) {
    status = cw_carry(job->line, &map, &job->like, kept);
  }
  for (size_t r = 0; r < job->sheet.n_rows && status == CW_OK; r++) {
    const size_t k = job->kept ? job->kept[r] : r;
    job->like_kept[r] = k < job->line->n_phrases ? kept[k] : SIZE_MAX;
  }
  cw_align_features_free(other);
  cw_time_map_free(&map);
  free(kept);
  return status;
}

/// Find the counts, by a file or by ear. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int find_line(const CliArgs *args, Job *job)
{
  const CliValue *by_line = &args->value[CLI_BY_LINE];
  if (by_line->given) {
    job->line = &job->by_line.file.line;
    const int result = cli_read_line(by_line->text, &job->notebook, &job->by_line, &job->messages);
    job->kept = job->by_line.kept;
    return result;
  }
  job->line = &job->found.line;
  const CwStatus status = cli_line_up(args, job->recording, &job->notebook, &job->found, &job->messages);
  return status == CW_OK ? CLI_GOOD : cli_say_status(job->recording, status);
}

static CwStatus build_sheet(Job *job)
{
  const char *shown = cli_base_name(job->recording);
  return job->kept ? cw_sheet_build_carried(&job->notebook, job->line, job->kept, shown, NULL, &job->sheet)
                   : cw_sheet_build(&job->notebook, job->line, shown, NULL, &job->sheet);
}

/// Measure the recording, find the counts and, when asked for, the pace of the other. Says what goes wrong.
static int listen(const CliArgs *args, Job *job)
{
  const bool like = args->value[CLI_LIKE].given;
  const bool by_line = args->value[CLI_BY_LINE].given;
  CwAlignFeatures *own = NULL;
  CwStatus status = CW_OK;
  if (like || !by_line) {
    status = cw_measure(job->recording, job->cache, cli_report(job->recording), by_line ? NULL : &job->found.features,
                        like ? &own : NULL);
  }
  int result = status == CW_OK ? find_line(args, job) : cli_say_status(job->recording, status);
  if (result == CLI_GOOD) {
    cw_features_free(&job->found.features);
    status = build_sheet(job);
    result = status == CW_OK ? CLI_GOOD : cli_say_status(args->operand[0], status);
  }
  if (result == CLI_GOOD && like) {
    status = follow(args, job, own);
    result = status == CW_OK ? CLI_GOOD : cli_say_status(args->value[CLI_LIKE].text, status);
  }
  cw_align_features_free(own);
  return result;
}

/// Lay out what will be heard. Says what goes wrong.
static int plan(const CliArgs *args, Job *job)
{
  CwPassage *passage = NULL;
  size_t n = 0;
  int result = cli_rehearse_passages(args, &job->notebook, &job->sheet, &passage, &n);
  job->passage = passage;
  if (result != CLI_GOOD) {
    return result;
  }
  cli_rehearse_options(args, &job->sheet, job->speed, &job->options);
  job->options.passage = passage;
  job->options.n_passages = n;
  job->options.like = &job->like;
  job->options.like_kept = job->like_kept;
  const CwStatus status =
      cw_practice_plan(&job->sheet, job->line, job->kept, &job->options, &job->practice, &job->messages);
  if (status == CW_ERR_UNSUPPORTED) {
    cli_say(cw_language_name(job->options.language),
            "there is no voice for this language here; '--counts clicked' does without");
    return CLI_FAILED;
  }
  if (status == CW_ERR_TOO_SHORT) {
    cli_say(args->operand[0], "no phrase that is asked for has a place in the recording");
    return CLI_FAILED;
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(args->operand[0], status);
}

/// Print where each count falls.
static int print_times(const Job *job)
{
  size_t n = 0;
  const CwPracticeCount *count = cw_practice_counts(job->practice, &n);
  for (size_t i = 0; i < n; i++) {
    char time[32];
    cw_format_fixed(time, sizeof time, count[i].at_s, 4);
    printf("%s\t%u\t%d\t%ld\n", time, count[i].phrase, (int)count[i].count, lround(100 * count[i].speed));
  }
  return CLI_GOOD;
}

static void say_result(const char *path, const Job *job, const CwPracticeResult *result)
{
  char length[24];
  char loudness[16];
  char peak[16];
  cw_format_time(result->duration_s, length);
  cw_format_fixed(loudness, sizeof loudness, result->loudness_lufs, 1);
  cw_format_fixed(peak, sizeof peak, result->peak_dbtp, 1);
  if (isnan(result->loudness_lufs)) {
    cli_say(path, "written, %s", length);
  } else {
    cli_say(path, "written, %s at %s LUFS, true peak %s dBTP", length, loudness, peak);
  }
  if (result->loudness_lufs < job->options.loudness_lufs - 0.5) {
    cli_say(path, "strokes are too loud against the rest for more");
  }
  cli_say(NULL, "%s", cw_practice_caution(job->options.language));
}

static int write_sound(const CliArgs *args, Job *job)
{
  const char *path = args->output[0];
  CwPracticeResult result;
  const CwStatus status = cw_practice_write(job->practice, job->recording, path, args->value[CLI_OVERWRITE].given,
                                            cli_report(job->recording), &result);
  if (status == CW_OK) {
    say_result(path, job, &result);
    return args->value[CLI_TIMES].given ? print_times(job) : CLI_GOOD;
  }
  if (status == CW_ERR_UNSUPPORTED) {
    cli_say(path, "this build cannot write this form, or not change the tempo");
    return CLI_FAILED;
  }
  return cli_say_status(path, status);
}

/// Read the notes and find their recording. Says what goes wrong.
static int read_notes(const CliArgs *args, Job *job)
{
  const char *notes = args->operand[0];
  CwStatus status = cli_read_notes(notes, &job->notebook);
  if (status == CW_OK && args->n_operands == 1) {
    status = cli_recording_of(&job->notebook, notes, &job->named);
  }
  if (status != CW_OK) {
    return cli_say_status(notes, status);
  }
  job->recording = args->n_operands > 1 ? args->operand[1] : job->named;
  if (!job->recording) {
    cli_say(notes, "no recording is named");
    return CLI_FAILED;
  }
  return cli_spread(args, notes, &job->notebook);
}

/// Whether the file can be begun, before the long work. Says why not.
static bool can_begin(const CliArgs *args, const Job *job)
{
  CliOutputs outputs = {0};
  const bool good = cli_outputs_begin(args, args->output, args->n_outputs, &outputs) &&
                    cli_outputs_spare(&outputs, job->recording) &&
                    cli_outputs_spare(&outputs, args->value[CLI_BY_LINE].text) &&
                    cli_outputs_spare(&outputs, args->value[CLI_LIKE].text);
  cli_outputs_cancel(&outputs);
  return good;
}

static int run(const CliArgs *args, Job *job)
{
  int result = read_notes(args, job);
  if (result == CLI_GOOD && !can_begin(args, job)) {
    result = CLI_FAILED;
  }
  if (result == CLI_GOOD) {
    result = listen(args, job);
  }
  if (result == CLI_GOOD) {
    result = plan(args, job);
  }
  cli_say_all(args->operand[0], &job->messages);
  return result == CLI_GOOD ? write_sound(args, job) : result;
}

int cli_rehearse(const CliArgs *args)
{
  const char *problem = cli_rehearse_problem(args);
  if (problem) {
    return cli_say_usage(args->command, problem);
  }
  Job job = {.cache = cli_cache_open(args)};
  const int result = run(args, &job);
  cw_practice_free(job.practice);
  cw_cache_free(job.cache);
  cw_sheet_free(&job.sheet);
  cw_messages_free(&job.messages);
  cw_count_line_free(&job.like);
  cli_found_free(&job.found);
  cli_line_free(&job.by_line);
  cw_notebook_free(&job.notebook);
  free(job.like_kept);
  free(job.passage);
  free(job.named);
  return result;
}
