// SPDX-License-Identifier: GPL-3.0-or-later
/// A sheet as pictures: a file for each page.
#ifndef CW_CLI_PAGES_H
#define CW_CLI_PAGES_H

#include "base/output.h"
#include "cli/cli.h"
#include "cli/write.h"

/// Write the pages: the first to `path`, which is begun already, the second to "sheet-2.png" where that is "sheet.png",
/// and so on. No page is there before all are whole; where one of the files exists already, none is written unless
/// '--overwrite' is given. Says what goes wrong, and what was written. `first` is released.
/// @return CLI_GOOD or CLI_FAILED.
int cli_write_pages(const CliArgs *args, const char *path, CwOutput *first, const CliContent *content);

#endif
