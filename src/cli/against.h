// SPDX-License-Identifier: GPL-3.0-or-later
/// A sheet held against another recording of its music.
#ifndef CW_CLI_AGAINST_H
#define CW_CLI_AGAINST_H

#include "cli/found.h"
#include "countwright/measure.h"
#include "countwright/sheet.h"

/// Measure the recording of the sheet for counts and, where '--against' is given, for following its music. Without it,
/// nothing is done: lining up measures itself.
/// @param[out] features Release with cw_align_features_free().
/// @return As cw_measure().
CW_NODISCARD CwStatus cli_measure_for_both(const CliArgs *args, const char *recording, CliFound *found,
                                           CwAlignFeatures **features);

/// Follow the music into the recording of '--against' and put what differs there on the sheet; messages on what it has
/// otherwise are added. Does nothing without '--against'. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
int cli_take_other(const CliArgs *args, const char *recording, const CliFound *found, const CwAlignFeatures *features,
                   CwSheet *sheet);

/// What is wrong with the options; NULL when nothing is.
const char *cli_against_problem(const CliArgs *args);

#endif
