// SPDX-License-Identifier: GPL-3.0-or-later
/// The glossary that notes go by.
#ifndef CW_CLI_GLOSSARY_H
#define CW_CLI_GLOSSARY_H

#include "cli/cli.h"
#include "countwright/glossary.h"

/// Open it: the academic vocabulary, with the files that the options and the notes name. Says what goes wrong, and what
/// in such a file is no term.
/// @param[out] glossary Release with cw_glossary_free(); NULL on failure. @return CLI_GOOD or CLI_FAILED.
int cli_glossary_open(const CliArgs *args, const CwNotebook *notebook, const char *notes, CwGlossary **glossary);

/// Spell the notebook's steps as the options ask. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
int cli_spell(const CliArgs *args, const char *notes, CwNotebook *notebook);

#endif
