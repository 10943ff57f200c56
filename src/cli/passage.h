// SPDX-License-Identifier: GPL-3.0-or-later
/// Which phrases are asked for.
#ifndef CW_CLI_PASSAGE_H
#define CW_CLI_PASSAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "cli/cli.h"
#include "countwright/notebook.h"

/// The heading over each of `n` phrases, NULL where there is none; phrases of one section share the pointer.
/// @return Release with free(); NULL when memory runs out.
const char **cli_sections(const CwNotebook *notebook, size_t n);

/// The phrases that '--phrases' or '--section' ask for, all without. Says what is wrong with them.
/// @param section Of cli_sections(). @param n Phrases there are.
/// @param[out] first, last Indices from 0; both 0 when there are no phrases at all.
bool cli_passage(const CliArgs *args, const char *const *section, size_t n, size_t *first, size_t *last);

#endif
