// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>

#include "base/memory.h"
#include "cli/cli.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "eval/eval.h"

static int say_status(const char *path, CwStatus status)
{
  fprintf(stderr, "countwright-eval: '%s': %s\n", path, cw_strerror(status));
  return CLI_FAILED;
}

static int read_list(const char *path, CwListKind kind, CwList *list)
{
  *list = (CwList){0};
  char *text = NULL;
  size_t size = 0;
  CwListFault fault = {0};
  CwStatus status = cli_read_text(path, &text, &size);
  if (status == CW_OK) {
    status = cw_eval_list_parse(text, size, kind, list, &fault);
  }
  free(text);
  if (status == CW_ERR_SYNTAX) {
    cli_say_place(path, fault.line, fault.column, "%s", fault.message);
    return CLI_FAILED;
  }
  return status == CW_OK ? CLI_GOOD : say_status(path, status);
}

/// Read a truth and what was found.
static int read_pair(char *const *path, CwListKind truth_kind, CwListKind found_kind, CwList *truth, CwList *found)
{
  *found = (CwList){0};
  const int result = read_list(path[0], truth_kind, truth);
  return result == CLI_GOOD ? read_list(path[1], found_kind, found) : result;
}

/// The times of a list, or of its downbeats; `room` holds as many as the list.
static CwTimes times_of(const CwList *list, bool only_downbeats, double *room)
{
  CwTimes times = {room, 0};
  for (size_t i = 0; i < list->n; i++) {
    if (!only_downbeats || list->item[i].downbeat) {
      room[times.n++] = list->item[i].time_s;
    }
  }
  return times;
}

static CwStatus score_times(const CwList *truth, const CwList *found, bool only_downbeats, double trim_s,
                            CwBeatScores *scores)
{
  double *true_room = cw_new(truth->n + 1, sizeof *true_room);
  double *found_room = cw_new(found->n + 1, sizeof *found_room);
  CwStatus status = CW_ERR_NO_MEM;
  if (true_room && found_room) {
    status = cw_eval_beats(cw_eval_trim(times_of(truth, only_downbeats, true_room), trim_s),
                           cw_eval_trim(times_of(found, only_downbeats, found_room), trim_s), scores);
  }
  free(true_room);
  free(found_room);
  return status;
}

static bool marks_downbeats(const CwList *list)
{
  for (size_t i = 0; i < list->n; i++) {
    if (list->item[i].downbeat) {
      return true;
    }
  }
  return false;
}

static CwStatus score_lists(const EvalRequest *request, const CwList *truth, const CwList *found, EvalScores *scores)
{
  CwStatus status = score_times(truth, found, false, request->trim_s, &scores->beats);
  if (status == CW_OK && request->command == EVAL_BEATS) {
    scores->metre = cw_eval_metre(truth);
    status = score_times(truth, found, true, request->trim_s, &scores->downbeats);
  }
  // a list of beats without any downbeat comes from a tracker that knows none
  scores->has_downbeats =
      scores->downbeats.hits.n_true > 0 && (marks_downbeats(found) || scores->beats.hits.n_found == 0);
  return status;
}

static int run_scores(const EvalRequest *request)
{
  const CwListKind kind = request->command == EVAL_BEATS ? CW_LIST_BEATS : CW_LIST_ONES;
  EvalScores scores = {.truth = request->file[0], .found = request->file[1], .trim_s = request->trim_s};
  CwList truth, found;
  int result = read_pair(request->file, kind, kind, &truth, &found);
  if (result == CLI_GOOD) {
    CwStatus status = score_lists(request, &truth, &found, &scores);
    if (status == CW_OK) {
      status = eval_print_scores(request, &scores, stdout);
    }
    result = status == CW_OK ? CLI_GOOD : say_status(scores.found, status);
  }
  cw_eval_list_free(&truth);
  cw_eval_list_free(&found);
  return result;
}

static int run_reliability(const EvalRequest *request)
{
  const CwListKind kind = request->judge == CW_JUDGE_BY_BARS ? CW_LIST_BEATS : CW_LIST_ONES;
  CwReliability reliability = {0};
  int result = CLI_GOOD;
  for (size_t i = 0; result == CLI_GOOD && i < request->n_files; i += 2) {
    CwList truth, counts;
    result = read_pair(&request->file[i], kind, CW_LIST_COUNTS, &truth, &counts);
    cw_eval_reliability_judge(&truth, &counts, request->judge, !request->unpinned, &reliability);
    cw_eval_list_free(&truth);
    cw_eval_list_free(&counts);
  }
  if (result != CLI_GOOD) {
    return result;
  }
  const CwStatus status = eval_print_reliability(request, &reliability, stdout);
  return status == CW_OK ? CLI_GOOD : say_status("standard output", status);
}

int eval_run(const EvalRequest *request)
{
  return request->command == EVAL_RELIABILITY ? run_reliability(request) : run_scores(request);
}
