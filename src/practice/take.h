// SPDX-License-Identifier: GPL-3.0-or-later
/// One playing of one passage at one speed.
#ifndef CW_PRACTICE_TAKE_H
#define CW_PRACTICE_TAKE_H

#include <stdbool.h>
#include <stddef.h>

#include "practice/score.h"
#include "practice/speak.h"

/// What all takes share.
typedef struct {
  const CwSheet *sheet;
  const CwPracticeOptions *options;
  CwPlacedLine own;
  CwPlacedLine like;
  size_t *section; ///< for each row the number of its section, from 0
  CwClips *clips;
  bool voice; ///< the clips have one
  unsigned rate_hz;
  CwScore *score;
  size_t dropped; ///< words of steps for which there was no time
} CwTakes;

/// A take.
typedef struct {
  size_t first; ///< rows, all of them in the line
  size_t last;
  double speed;
  bool with_beginning; ///< of the recording, before the one
  bool with_end;       ///< of the recording, after the last count
  bool announce_speed; ///< say the speed before it
  bool announce_rows;  ///< say which phrases they are
  bool first_loop;     ///< it gets chapters, and is announced
} CwTake;

/// Append it to the score at `*at_s`, and move that to its end. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_take_append(CwTakes *takes, const CwTake *take, double *at_s);

#endif
