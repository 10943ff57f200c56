// SPDX-License-Identifier: GPL-3.0-or-later
/// The notes from which counts are carried, and the recording they belong to.
#ifndef CW_CLI_ORIGIN_H
#define CW_CLI_ORIGIN_H

#include "cli/cli.h"
#include "countwright/notebook.h"

/// Notes to carry from.
typedef struct {
  CwNotebook notebook; ///< whose pins and recording count
  CwNotebook words;    ///< as given, where its phrases are the same; else empty
  bool own_words;      ///< `words` is to be used
  char *path;          ///< of the notes that `notebook` was read from
  char *recording;
} CliOrigin;

/// Find what to carry from: the notes given or, when they are a copy, those that they were copied from. Says what goes
/// wrong. @param[out] origin Release with cli_origin_free(), also on failure. @return CLI_GOOD or CLI_FAILED.
int cli_origin_find(const CliArgs *args, CliOrigin *origin);

/// The notebook whose words are shown.
const CwNotebook *cli_origin_words(const CliOrigin *origin);

/// How a file is named in one that is written to `folder_of`'s folder: by its name where both lie in one folder, else
/// by its full path. @return Release with free(); NULL when memory runs out.
char *cli_name_beside(const char *path, const char *folder_of);

/// Release.
void cli_origin_free(CliOrigin *origin);

#endif
