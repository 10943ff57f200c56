// SPDX-License-Identifier: GPL-3.0-or-later
/// @file fit.h
/// Where notes and music do not fit: the smallest changes of the notes that make them fit better, found by really lining
/// up the notes so changed.
#ifndef COUNTWRIGHT_FIT_H
#define COUNTWRIGHT_FIT_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/features.h"
#include "countwright/lineup.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// A change of the notes.
typedef enum {
  CW_FIT_MISSING, ///< a phrase is missing after `phrase` (0: before the first)
  CW_FIT_EXTRA,   ///< `phrase` is not in the music
  CW_FIT_LENGTH   ///< `phrase` has another number of counts
} CwFitKind;

/// A change, and what speaks for it.
typedef struct {
  CwFitKind kind;
  size_t phrase;   ///< from 1
  size_t first;    ///< the same change of any phrase from this one ...
  size_t last;     ///< ... to this one is as good: the music cannot tell them apart
  unsigned counts; ///< of the missing phrase; that the phrase should have; 0 for an extra one
  double gain;     ///< ln of how much better notes and music fit than without it, the change's own cost taken off
  double chance;   ///< 0 to 1: its share among all that were weighed, no change among them; no probability: of made
                   ///< mistakes half are right where they are first
  double at_s;     ///< where in the music the phrase is
} CwFit;

/// Changes, the likeliest first. Release with cw_fits_free().
typedef struct {
  CwFit *fit;
  size_t n;         ///< none where no change is better than none
  double as_it_is;  ///< 0 to 1: the share of no change
  size_t n_weighed; ///< changes that were lined up in full
} CwFits;

/// Look for changes. Takes some times as long as the line-up itself.
/// @param options As for cw_lineup(); NULL for the defaults. Taps are not heeded.
/// @param[out] line The notes as they are, lined up; release with cw_count_line_free().
/// @param[out] messages As cw_lineup() has them; appended to.
/// @param[out] fits Release with cw_fits_free(); empty on error.
/// @return As cw_lineup().
CW_API CW_NODISCARD CwStatus cw_fits_find(const CwFeatures *features, const CwNotebook *notebook,
                                          const CwLineupOptions *options, const CwReport *report, CwCountLine *line,
                                          CwMessages *messages, CwFits *fits);

/// Say a change and those that come to the same: "a 4 is missing after phrase 7, or phrase 8 is a 12".
/// @param messages Appended to, a line for each change or few.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_fits_explain(const CwFits *fits, CwMessages *messages);

/// Release and set to empty. NULL is accepted.
CW_API void cw_fits_free(CwFits *fits);

CW_END

#endif
