// SPDX-License-Identifier: GPL-3.0-or-later
/// What is found in one recording.
#ifndef CW_CLI_FOUND_H
#define CW_CLI_FOUND_H

#include "cli/cli.h"
#include "countwright/beats.h"
#include "countwright/count_line.h"
#include "countwright/evidence.h"
#include "countwright/features.h"
#include "countwright/fit.h"
#include "countwright/notebook.h"
#include "countwright/taps.h"

/// Zeroed, then filled as far as asked. Release with cli_found_free().
typedef struct {
  CwFeatures features;
  CwBeats beats;
  CwCountLine line;
  CwEvidence evidence; ///< of notes lined up
  CwTaps taps;         ///< filled beforehand where the options ask for taps
} CliFound;

/// Find the beats, by the taps or the tracker asked for. @return As cw_beats_find(), cw_beats_by_taps() or
/// cw_beats_by_aubio().
CW_NODISCARD CwStatus cli_find_beats(const CliArgs *args, const char *recording, CliFound *found);

/// Find beats, counts and phrases. @return As cli_find_beats() and cw_phrases_find().
CW_NODISCARD CwStatus cli_find_counts(const CliArgs *args, const char *recording, CliFound *found);

/// Line notes up; without their pins, and saying so, where the notes name another recording. @return As cw_features_read() and cw_lineup().
CW_NODISCARD CwStatus cli_line_up(const CliArgs *args, const char *recording, const CwNotebook *notebook,
                                  CliFound *found, CwMessages *messages);

/// Line notes up as cli_line_up() and look for changes that would make them fit. Taps are not heeded.
/// @param[out] fits Release with cw_fits_free(). @return As cw_features_read() and cw_fits_find().
CW_NODISCARD CwStatus cli_fit(const CliArgs *args, const char *recording, const CwNotebook *notebook, CliFound *found,
                              CwMessages *messages, CwFits *fits);

/// Release.
void cli_found_free(CliFound *found);

#endif
