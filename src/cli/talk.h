// SPDX-License-Identifier: GPL-3.0-or-later
/// What the program says to a person, on standard error, and how a person stops it.
#ifndef CW_CLI_TALK_H
#define CW_CLI_TALK_H

#include "cli/cli.h"
#include "countwright/api.h"
#include "countwright/report.h"
#include "countwright/status.h"

/// Begin: from now on, Ctrl-C, a hang-up and a request to end are kept until someone asks.
void cli_talk_begin(void);

/// The signal that asked the program to stop, 0 when none.
int cli_stopped_by(void);

/// Say something, as "countwright: 'subject': text". @param subject May be NULL.
CW_PRINTF(2, 3) void cli_say(const char *subject, const char *format, ...);

/// Say something about a place in a file, as "FILE:LINE:COLUMN: text".
CW_PRINTF(4, 5) void cli_say_place(const char *path, size_t line, size_t column, const char *format, ...);

/// Say what a call on `subject` came to. @return CLI_FAILED.
int cli_say_status(const char *subject, CwStatus status);

/// Say that a command was called wrongly, and where its help is. @return CLI_USAGE.
int cli_say_usage(const CliCommand *command, const char *problem);

/// Take the progress bar off the terminal, before something else is written there.
void cli_hush(void);

/// Say each message.
void cli_say_all(const char *subject, const CwMessages *messages);

/// Callbacks that show progress (on a terminal, for what lasts over a second), say notices about `subject`, and cancel
/// once the program is asked to stop. Valid, with `subject`, until the next call.
const CwReport *cli_report(const char *subject);

#endif
