// SPDX-License-Identifier: GPL-3.0-or-later
/// What a command found, written to files and to standard output.
#ifndef CW_CLI_WRITE_H
#define CW_CLI_WRITE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "base/output.h"
#include "cli/at.h"
#include "cli/cli.h"
#include "countwright/beats.h"
#include "countwright/count_line.h"
#include "countwright/notebook.h"
#include "countwright/print.h"

/// All that may be written; a writer takes what it needs.
typedef struct {
  const CwBeats *beats;
  const CwCountLine *line;
  const size_t *number;  ///< of each phrase of the line; NULL: from 1 on
  const char *recording; ///< name of the line's recording
  const CwSheet *sheet;
  const CwDriftTable *table;
  const CwNotebook *notebook;
  const char *notes;                ///< file name of the notebook
  const struct CliChecked *checked; ///< what was found in it
  double beats_per_count;           ///< as asked for, against what the notebook says; 0: not
  const char *text;                 ///< written as it is
  size_t text_size;
  const void *sound; ///< for the inside of a web sheet; NULL: none
  size_t sound_size;
  const char *sound_type; ///< its media type
  const CliTimes *times;
  const CwTimeMap *map;
  const CwDayTable *day;
  CwPage page;      ///< what a sheet is printed on
  unsigned columns; ///< set by the functions below
} CliContent;

/// Writes content in one form.
typedef CwStatus (*CliWriter)(const CliContent *content, FILE *out);

/// A form and the ending of the files that have it. A table of them ends with an `ending` of NULL; its first is also
/// for "-".
typedef struct {
  const char *ending;
  CliWriter write; ///< NULL: pages as pictures, a file for each
} CliForm;

extern const CliForm cli_sheet_forms[];
extern const CliForm cli_drift_forms[];
extern const CliForm cli_chart_forms[];
extern const CliForm cli_line_forms[];
extern const CliForm cli_text_forms[];
extern const CliForm cli_day_forms[];

/// Files begun, but not there before they are whole. Zeroed when there are none.
typedef struct {
  CwOutput *output;
  const char *const *path;
  size_t n;
} CliOutputs;

/// Whether a file to be written is none of those that are read. Says so when it is.
bool cli_spares_inputs(const CliArgs *args, const char *path);

/// Say why a file could not be begun.
void cli_say_not_begun(const char *path, CwStatus status);

/// Begin files, before the long work, so that it is not done in vain. Says what goes wrong: also that a file is one of
/// those that are read.
/// @return false when one cannot be begun; none is then left.
bool cli_outputs_begin(const CliArgs *args, const char *const *path, size_t n, CliOutputs *outputs);

/// Whether no output would replace `input` (NULL: nothing). Says so when one would.
bool cli_outputs_spare(const CliOutputs *outputs, const char *input);

/// Whether one has that ending, in capitals or not.
bool cli_outputs_have(const CliOutputs *outputs, const char *ending);

/// Whether a path has that ending, in capitals or not.
bool cli_ends_with(const char *path, const char *ending);

/// Give files up that were begun. Safe on zeroed outputs and after cli_write_all().
void cli_outputs_cancel(CliOutputs *outputs);

/// Write each file in the form of its ending, then to standard output what the options ask for: a list, JSON, CSV, or,
/// when nothing else is written, text. Says what goes wrong, and what was written. The outputs are released.
/// @return CLI_GOOD or CLI_FAILED.
int cli_write_all(const CliArgs *args, const CliForm *forms, CliOutputs *outputs, CliContent *content);

/// Write each file in the form of its ending. Says what goes wrong, and what was written. The outputs are released.
/// @return CLI_GOOD or CLI_FAILED.
int cli_outputs_write(const CliArgs *args, const CliForm *forms, CliOutputs *outputs, CliContent *content);

/// Write to standard output, all or nothing. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
int cli_write_out(const CliArgs *args, CliWriter write, CliContent *content);

/// What writes the plain list of that name: a word that '--list' takes.
CliWriter cli_list_writer(const char *name);

#endif
