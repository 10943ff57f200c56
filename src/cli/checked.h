// SPDX-License-Identifier: GPL-3.0-or-later
/// What `check` found.
#ifndef CW_CLI_CHECKED_H
#define CW_CLI_CHECKED_H

#include <stdbool.h>

#include "cli/found.h"
#include "cli/write.h"
#include "countwright/changes.h"
#include "countwright/glossary.h"

/// Found in notes. Release with cli_checked_free().
typedef struct CliChecked {
  CwGlossary *glossary;
  CwSpellings spelling;
  size_t n_suggestions;  ///< of the spellings, those that are not proper
  bool words;            ///< the terms used are wanted
  const char *since;     ///< the older notes; NULL when none are given
  CwChanges changes;     ///< since then
  const char *recording; ///< the music; NULL when none is given
  CliFound found;
  CwMessages messages; ///< what does not add up, and changes that would make it fit
  CwFits fits;
} CliChecked;

/// As text, and as src/cli/schema/check.json has it; `content->checked` is what was found.
CwStatus cli_checked_text(const CliContent *content, FILE *out);
CwStatus cli_checked_json(const CliContent *content, FILE *out);

void cli_checked_free(CliChecked *checked);

#endif
