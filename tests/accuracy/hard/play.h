// SPDX-License-Identifier: GPL-3.0-or-later
/// A hard case played: its sound, and the truth about it.
#ifndef CW_TEST_HARD_PLAY_H
#define CW_TEST_HARD_PLAY_H

#include <stdbool.h>

#include "accuracy/hard/cases.h"

/// The truth: when the beats come, exactly. Players miss them by a few milliseconds, as people do.
typedef struct {
  double *beat_s;
  size_t n_beats;
  double *downbeat_s;
  size_t n_downbeats;
  double *count_s;
  size_t n_counts;
  double *one_s; ///< first count of each phrase
  unsigned *counts;
  bool *hold_after; ///< the music waits between this phrase and the next
  size_t n_phrases;
  double from_s; ///< before this nothing is in tempo, and no beat is right or wrong
} CwHardTruth;

typedef struct {
  Sound sound;
  CwHardTruth truth;
} CwPlayed;

/// Play a case. @return false when its piece or its phrases are wrong, having said where. Release with cw_played_free().
bool cw_hard_play(const CwHardCase *hard, CwPlayed *played);

void cw_played_free(CwPlayed *played);

#endif
