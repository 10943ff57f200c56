// SPDX-License-Identifier: GPL-3.0-or-later
/// How a sheet is to be printed: in which language, which phrases, on what.
#ifndef CW_CLI_PAGE_H
#define CW_CLI_PAGE_H

#include "cli/cli.h"
#include "countwright/print.h"

/// The paper asked for.
CwPage cli_page(const CliArgs *args);

/// Take '--language', '--repeats', '--from' and '--to' over into a sheet that was built, as far as the command has them.
/// Says what is wrong with them. @return CLI_GOOD or CLI_FAILED.
int cli_take_page(const CliArgs *args, CwSheet *sheet);

#endif
