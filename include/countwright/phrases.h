// SPDX-License-Identifier: GPL-3.0-or-later
/// @file phrases.h
/// From beats to counts and from counts to phrases: the second decoding.
#ifndef COUNTWRIGHT_PHRASES_H
#define COUNTWRIGHT_PHRASES_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/beats.h"
#include "countwright/count_line.h"
#include "countwright/features.h"
#include "countwright/status.h"

CW_BEGIN

/// How many beats one count lasts, chosen by tempo and metre: a bar of three is one count when its beats are quick;
/// a slow beat of an adagio may be two counts.
/// @return 0.5, 1, 2, 3 or 6.
CW_API double cw_beats_per_count(const CwBeats *beats);

/// What is known beforehand. Zero everything for the defaults.
typedef struct {
  double beats_per_count;     ///< 0: choose with cw_beats_per_count()
  unsigned counts_per_phrase; ///< most likely length; 0: 8
} CwPhraseOptions;

/// Group beats to counts and counts to phrases, driven by novelty of timbre and harmony (Foote 2000). Music before the
/// first one is the pick-up and has no counts.
/// @param options NULL for the defaults.
/// @param[out] line Release with cw_count_line_free(); empty on error.
/// @return CW_OK, CW_ERR_NO_PULSE (too few beats for a phrase) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_phrases_find(const CwFeatures *features, const CwBeats *beats,
                                             const CwPhraseOptions *options, CwCountLine *line);

CW_END

#endif
