// SPDX-License-Identifier: GPL-3.0-or-later
/// A role's own sheet, and who is on stage when.
#ifndef CW_CLI_CAST_H
#define CW_CLI_CAST_H

#include "cli/cli.h"
#include "cli/write.h"

/// What cannot be asked for together; NULL when all is well.
const char *cli_cast_problem(const CliArgs *args);

/// With '--spread', spread steps without marks. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
int cli_spread(const CliArgs *args, const char *notes, CwNotebook *notebook);

/// Put '--role' and '--warm' to the sheet. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
int cli_take_role(const CliArgs *args, const char *notes, CwSheet *sheet);

/// The forms in which what is asked for is written: those of sheets, or with '--entrances' of times on and off stage.
const CliForm *cli_forms_of_sheet(const CliArgs *args);

#endif
