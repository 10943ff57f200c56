// SPDX-License-Identifier: GPL-3.0-or-later
/// The cache of what was measured, where the user has caches: $XDG_CACHE_HOME/countwright, else ~/.cache/countwright.
#ifndef CW_CLI_KEPT_H
#define CW_CLI_KEPT_H

#include <stdio.h>

#include "cli/cli.h"
#include "countwright/measure.h"

/// Open it, unless the options say not to. @return NULL when there is none; without a cache all goes on, only slower.
CwCache *cli_cache_open(const CliArgs *args);

/// Remove all that is kept, and say what that was. @return CLI_GOOD or CLI_FAILED.
int cli_cache_clear(void);

#endif
