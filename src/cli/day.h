// SPDX-License-Identifier: GPL-3.0-or-later
/// '--runs' and '--run': a dance in a recording of a whole day.
#ifndef CW_CLI_DAY_H
#define CW_CLI_DAY_H

#include "cli/cli.h"
#include "countwright/day.h"

/// What is wrong with the options, NULL when nothing is.
const char *cli_day_problem(const CliArgs *args);

/// Align the dance with the recording or, where the options ask for one run of it, with that. Says what goes wrong.
/// @param[out] map Release with cw_time_map_free(); empty on failure. @return CLI_GOOD or CLI_FAILED.
int cli_day_align(const CliArgs *args, const CwAlignFeatures *dance, const CwAlignFeatures *day, CwTimeMap *map);

#endif
