// SPDX-License-Identifier: GPL-3.0-or-later
/// A count line that '--line' names, to go by instead of listening.
#ifndef CW_CLI_LINE_H
#define CW_CLI_LINE_H

#include "cli/cli.h"
#include "countwright/count_line_file.h"
#include "countwright/notebook.h"

/// A count line beside the notes that it belongs to.
typedef struct {
  CwCountLineFile file;
  size_t *kept; ///< for each phrase of the notes its index in the line, SIZE_MAX where that lacks it
} CliLine;

/// Read the file and find the notes' phrases in it. Says what goes wrong.
/// @param[out] line Release with cli_line_free(), also on failure.
/// @param[out] messages Phrases that do not fit; appended to. @return CLI_GOOD or CLI_FAILED.
int cli_read_line(const char *path, const CwNotebook *notebook, CliLine *line, CwMessages *messages);

/// Why the options do not go together with '--line'; NULL when they do, or when it is not given.
const char *cli_line_problem(const CliArgs *args);

/// Release. Safe on a zeroed CliLine.
void cli_line_free(CliLine *line);

#endif
