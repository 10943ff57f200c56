// SPDX-License-Identifier: GPL-3.0-or-later
/// @file phrases.h
/// From beats to counts and from counts to phrases: the second decoding.
#ifndef COUNTWRIGHT_PHRASES_H
#define COUNTWRIGHT_PHRASES_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/beats.h"
#include "countwright/count_line.h"
#include "countwright/features.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// How many beats one count lasts in music of this tempo and metre: a bar of quick beats in three is one count; a very
/// slow beat is two. Common practice, no source: counts come about 50 to 160 times a minute.
/// @param bpm Beats a minute, positive. @param metre Beats in a bar, 0 when unknown.
/// @return 0.5, 1, 2 or 3.
CW_API double cw_beats_per_count(double bpm, unsigned metre);

/// What is known beforehand. Zero everything for the defaults.
typedef struct {
  double beats_per_count;     ///< kept to 0.25 to 16; 0: choose for each stretch of one metre with cw_beats_per_count()
  unsigned counts_per_phrase; ///< most likely length, up to 999; 0: 8
} CwPhraseOptions;

/// Novelty at every boundary between neighbouring vectors (Foote 2000): how alike the vectors are on each side and how
/// unlike across, through a checkerboard kernel on their dot products.
/// @param vector `n` rows of `width` values.
/// @param half Half the kernel's width, at least 1.
/// @param taper Whether the kernel falls off from its middle as a Gaussian (to e^-2 at its edge).
/// @param[out] novelty `n` values; value i is for the boundary before row i, 0 for the first.
CW_API void cw_novelty(const float *vector, size_t n, size_t width, size_t half, bool taper, double *novelty);

/// Group beats to counts and counts to phrases, driven by novelty of timbre and harmony (Foote 2000), by where
/// repetitions of the harmony begin and end, and by the first bar, which most often begins with a one. Music before the
/// first one is the pick-up and has no counts.
/// @param options NULL for the defaults.
/// @param[out] line Release with cw_count_line_free(); empty on error.
/// @return CW_OK, CW_ERR_NO_PULSE (too few beats for a phrase), CW_ERR_BAD_ARG (over 999 counts to a phrase) or
/// CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_phrases_find(const CwFeatures *features, const CwBeats *beats,
                                             const CwPhraseOptions *options, CwCountLine *line);

/// Median tempo of the phrases in counts a minute; NaN when there are none.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_counts_per_min(const CwCountLine *line, double *per_min);

/// Say in a line what is counted and how to count otherwise: "counted in bars of three: 62 counts a minute; beats would
/// be 186 a minute; '--beats-per-count 1' counts beats".
/// @param key How the reader sets the beats per count, such as "--beats-per-count".
/// @param messages Appended to; nothing is where the line is empty.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_level_explain(const CwCountLine *line, const char *key, CwMessages *messages);

CW_END

#endif
