// SPDX-License-Identifier: GPL-3.0-or-later
/// What is asked of 'rehearse'.
#ifndef CW_CLI_REHEARSE_OPTIONS_H
#define CW_CLI_REHEARSE_OPTIONS_H

#include "cli/cli.h"
#include "countwright/notebook.h"
#include "countwright/practice.h"

/// Speeds that may be asked for, one after the other.
enum { CLI_MOST_SPEEDS = 20 };

/// Speeds such as "70,80,100" in percent, as parts of 1. @return How many; 0 when they are wrong.
size_t cli_speeds(const char *text, double speed[CLI_MOST_SPEEDS]);

/// Why the options do not go together; NULL when they do.
const char *cli_rehearse_problem(const CliArgs *args);

/// Take all options over but passages and the other recording. @param speed Room for speeds, which must outlive them.
void cli_rehearse_options(const CliArgs *args, const CwSheet *sheet, double speed[CLI_MOST_SPEEDS],
                          CwPracticeOptions *options);

/// The passages asked for. Says what is wrong. @param[out] passage Release with free(); NULL for the whole.
/// @return CLI_GOOD or CLI_FAILED.
int cli_rehearse_passages(const CliArgs *args, const CwNotebook *notebook, CwSheet *sheet, CwPassage **passage,
                          size_t *n);

#endif
