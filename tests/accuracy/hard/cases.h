// SPDX-License-Identifier: GPL-3.0-or-later
/// The hard cases: a piece, how it is played, and what makes it hard.
#ifndef CW_TEST_HARD_CASES_H
#define CW_TEST_HARD_CASES_H

#include "accuracy/hard/tempo.h"
#include "accuracy/hard/voices.h"
#include "accuracy/hard/written.h"

enum { CW_MOST_HOLDS = 3 };

typedef struct {
  const char *name;
  const CwPiece *piece;
  unsigned times;    ///< played so often in a row
  const char *style; ///< of the accompaniment, see cw_written_read()
  CwVoice voice[CW_N_PARTS];
  CwTempo tempo;
  CwHold hold[CW_MOST_HOLDS + 1]; ///< the last has length 0
  bool silent_holds;              ///< the music stops; else its notes are held
  double rest_at, rest_beats;     ///< nobody plays, the counts go on
  bool introduction;              ///< eleven seconds of chords out of tempo come first
  double applause_s;              ///< at the end; 0: none
  double beats_per_count;
  const char *phrases; ///< "8*4 10": counts of each
  const char *metre;   ///< as the notes say it; NULL: they do not
} CwHardCase;

extern const CwHardCase cw_hard_cases[];
extern const size_t cw_n_hard_cases;

/// The case called `name`, or NULL.
const CwHardCase *cw_hard_case(const char *name);

#endif
