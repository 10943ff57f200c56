// SPDX-License-Identifier: GPL-3.0-or-later
/// A sheet from the command line, for each command that makes one of notes.
#ifndef CW_CLI_SHEET_H
#define CW_CLI_SHEET_H

#include "cli/write.h"

/// A last look at a sheet before it is written.
/// @param sheet That of `content`; may be changed. @param[in,out] write Whether it is written at all.
/// @return CLI_GOOD or CLI_FAILED.
typedef int (*CliLook)(const CliArgs *args, const CliContent *content, CwSheet *sheet, bool *write);

/// What is wrong with options for sheets, NULL when nothing is.
const char *cli_sheet_problem(const CliArgs *args);

/// Make the sheet of the operands, the notes and perhaps a recording, as the options ask. Says what goes wrong. The outputs
/// are released.
/// @return CLI_GOOD or CLI_FAILED.
int cli_sheet_make(const CliArgs *args, CliOutputs *outputs, CliLook look);

#endif
