// SPDX-License-Identifier: GPL-3.0-or-later
/// `--taps` and `--taps-on`.
#ifndef CW_CLI_TAPS_H
#define CW_CLI_TAPS_H

#include "cli/cli.h"
#include "countwright/taps.h"

/// Read the taps asked for, if any. Says what goes wrong, with line and column.
/// @param[out] taps Release with cw_taps_free(); empty when none are asked for, and on error.
/// @return CLI_GOOD or CLI_FAILED.
int cli_read_taps(const CliArgs *args, CwTaps *taps);

/// What is wrong with the options together; NULL when nothing is.
const char *cli_taps_problem(const CliArgs *args);

/// What was tapped, by the options.
CwTapsOn cli_taps_on(const CliArgs *args);

/// Say what was found out about taps on `recording`.
void cli_say_taps(const char *recording, const CwTapsFound *found);

#endif
