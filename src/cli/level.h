// SPDX-License-Identifier: GPL-3.0-or-later
/// What is said of how music is counted.
#ifndef CW_CLI_LEVEL_H
#define CW_CLI_LEVEL_H

#include "countwright/count_line.h"
#include "countwright/evidence.h"

/// Say what is counted and how to count otherwise. @param key As cw_level_explain(). @return CLI_GOOD or CLI_FAILED.
int cli_say_level(const char *subject, const CwCountLine *line, const char *key);

/// Say what the notes changed, and what is counted where they do not say. @return CLI_GOOD or CLI_FAILED.
int cli_say_evidence(const char *subject, const CwCountLine *line, const CwEvidence *evidence);

#endif
