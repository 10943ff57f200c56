// SPDX-License-Identifier: GPL-3.0-or-later
/// How a sheet is to be printed: in which language, on what.
#ifndef CW_CLI_PAGE_H
#define CW_CLI_PAGE_H

#include "cli/cli.h"
#include "countwright/sheet.h"

/// Take '--language' over into a sheet that was built.
void cli_take_language(const CliArgs *args, CwSheet *sheet);

#endif
