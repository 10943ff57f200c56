// SPDX-License-Identifier: GPL-3.0-or-later
/// What countwright finds in a hard case, against the truth.
#ifndef CW_TEST_HARD_JUDGE_H
#define CW_TEST_HARD_JUDGE_H

#include "accuracy/hard/play.h"
#include "countwright/features.h"

/// What is known beforehand.
typedef enum {
  CW_ALONE,  ///< nothing but the music
  CW_NOTES,  ///< the notes: metre, beats per count, the counts of every phrase, where the holds are
  CW_PINS,   ///< the notes, the first one pinned, and the one of the phrase in the middle
  CW_TAPPED, ///< the notes, and somebody tapped the counts
  CW_N_MODES
} CwMode;

typedef enum {
  CW_BEAT_F,     ///< beats, F at 70 ms; alone only
  CW_DOWNBEAT_F, ///< first beats of bars, F at 70 ms; alone only
  CW_COUNT_F,    ///< counts, F at 70 ms
  CW_ONES,       ///< alone: F of the ones at 70 ms; with notes: share of the phrases whose own one is within 70 ms
  CW_N_MEASURES
} CwMeasure;

extern const char *const cw_mode_names[CW_N_MODES];
extern const char *const cw_measure_names[CW_N_MEASURES];

typedef struct {
  double value[CW_N_MEASURES]; ///< NaN where it is not measured
  char reading[160];           ///< how the music was taken, in words, where it was mistaken
} CwVerdict;

/// Find counts in the features of a case and judge them. A failure of the library scores 0 and stands in `reading`.
CwVerdict cw_judge(const CwHardCase *hard, const CwHardTruth *truth, const CwFeatures *features, CwMode mode);

#endif
