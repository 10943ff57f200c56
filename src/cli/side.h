// SPDX-License-Identifier: GPL-3.0-or-later
/// Notes mirrored for the cast on the other side.
#ifndef CW_CLI_SIDE_H
#define CW_CLI_SIDE_H

#include "cli/cli.h"
#include "cli/write.h"
#include "countwright/mirror.h"

/// Whether '--side other' is given.
bool cli_is_other_side(const CliArgs *args);

/// With '--side other', put the mirrored notebook in the place of the one that was read, and say on standard error which
/// words may be sides but were left. Says what goes wrong. @param[out] mirrored Release with cw_mirrored_free().
/// @return CLI_GOOD or CLI_FAILED.
int cli_take_side(const CliArgs *args, const char *notes, CwNotebook *notebook, CwMirrored *mirrored);

/// Put on the sheet that it is mirrored, and the first of those words among what does not add up.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cli_put_side(const CwMirrored *mirrored, CwSheet *sheet);

/// With '--side other', put those words among the notebook's diagnostics, in order. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cli_add_doubts(const CliArgs *args, CwNotebook *notebook);

/// With '--mirrored', write the mirrored notes as text. Says what goes wrong. @param notebook The notes as they were read.
/// @return CLI_GOOD or CLI_FAILED.
int cli_write_mirrored(const CliArgs *args, const char *notes, const CwNotebook *notebook);

#endif
