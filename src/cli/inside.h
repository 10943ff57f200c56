// SPDX-License-Identifier: GPL-3.0-or-later
/// The recording made small, for the inside of a web sheet.
#ifndef CW_CLI_INSIDE_H
#define CW_CLI_INSIDE_H

#include <stddef.h>

#include "cli/cli.h"

/// A recording made small. Zeroed when there is none.
typedef struct {
  void *bytes;
  size_t size;
  const char *type; ///< its media type
} CliInside;

/// What is wrong with asking for the recording inside, NULL when nothing is.
const char *cli_inside_problem(const CliArgs *args, const char *const *output, size_t n_outputs);

/// "about 1.2 MB", what a recording so long takes inside a page as '--sound' asks for it. @return `out`.
const char *cli_inside_told(const CliArgs *args, double duration_s, char out[64]);

/// Make the recording small as '--sound' asks; nothing when it does not. Says what goes wrong.
/// @param[out] inside Release with cli_inside_free(). @return CLI_GOOD or CLI_FAILED.
int cli_take_inside(const CliArgs *args, const char *recording, CliInside *inside);

/// Release and set to empty.
void cli_inside_free(CliInside *inside);

#endif
