// SPDX-License-Identifier: GPL-3.0-or-later
/// The program countwright-eval: what it is asked and how it answers. Like countwright it ends with 0 when all went
/// well, 1 when something failed and 2 when it was called wrongly.
#ifndef CW_EVAL_EVAL_H
#define CW_EVAL_EVAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "eval/reliability.h"
#include "eval/scores.h"

typedef enum { EVAL_BEATS, EVAL_ONES, EVAL_RELIABILITY, EVAL_N_COMMANDS } EvalCommand;

typedef enum { EVAL_TEXT, EVAL_JSON, EVAL_TSV } EvalForm;

/// A command line, understood. Strings belong to the command line.
typedef struct {
  EvalCommand command;
  EvalForm form;
  double trim_s;  ///< beats before it are left out
  CwJudge judge;  ///< of EVAL_RELIABILITY
  bool unpinned;  ///< EVAL_RELIABILITY: leave out what is certain
  char **file;    ///< TRUTH FOUND, once or, of EVAL_RELIABILITY, several times
  size_t n_files; ///< even, at least 2
} EvalRequest;

/// Scores of a pair of lists.
typedef struct {
  const char *truth; ///< path
  const char *found; ///< path
  double trim_s;
  unsigned metre; ///< of the true beats; 0 when mixed or not known
  CwBeatScores beats;
  CwBeatScores downbeats;
  bool has_downbeats; ///< whether the truth has downbeats and the found list marks them, if it has any beat
} EvalScores;

/// Do what is asked; says what goes wrong. @return CLI_GOOD or CLI_FAILED.
int eval_run(const EvalRequest *request);

/// Print the scores of beats or of ones. @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus eval_print_scores(const EvalRequest *request, const EvalScores *scores, FILE *out);

/// Print a table of reliability. @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus eval_print_reliability(const EvalRequest *request, const CwReliability *reliability, FILE *out);

#endif
