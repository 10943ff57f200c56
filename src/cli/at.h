// SPDX-License-Identifier: GPL-3.0-or-later
/// `drift --at`: single times carried from one recording to the other.
#ifndef CW_CLI_AT_H
#define CW_CLI_AT_H

#include <stddef.h>
#include <stdio.h>

#include "countwright/align.h"
#include "countwright/status.h"

/// Times read from a file, in the order of its lines. A blank line is NaN.
typedef struct {
  double *time_s;
  size_t n;
} CliTimes;

/// Read times, one on a line. Says what goes wrong, with line and column.
/// @param[out] times Release with free(times->time_s); empty on error.
/// @return CLI_GOOD or CLI_FAILED.
int cli_read_times(const char *path, CliTimes *times);

/// Write the matching time in b for each, "-" where b lacks that music, and a blank line for a blank line.
CwStatus cli_write_times(const CliTimes *times, const CwTimeMap *map, FILE *out);

#endif
