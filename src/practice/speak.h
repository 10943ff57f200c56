// SPDX-License-Identifier: GPL-3.0-or-later
/// The counts of one take as sounds, and what is said before phrases and steps, so that no two voices sound at once.
#ifndef CW_PRACTICE_SPEAK_H
#define CW_PRACTICE_SPEAK_H

#include <stdbool.h>
#include <stddef.h>

#include "practice/score.h"

/// A count, or a place between counts, at which something sounds.
typedef struct {
  double at_s;
  unsigned word; ///< what is said: 1, 2, ...; 0 is "and"
  bool one;
  bool between; ///< it lies between counts
} CwSlot;

/// Words that are to end before a time.
typedef struct {
  double before_s;
  double not_before_s; ///< where they may begin at the earliest
  char *text;
  bool announcement; ///< goes before the words of steps, and ends before the voice of the count begins
} CwLine;

/// What one take has.
typedef struct {
  CwSlot *slot; ///< ascending
  size_t n_slots, slot_room;
  CwLine *line;
  size_t n_lines, line_room;
} CwTakeWords;

/// Add to a take. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_take_add_slot(CwTakeWords *take, const CwSlot *slot);
CW_NODISCARD CwStatus cw_take_add_line(CwTakeWords *take, double before_s, double not_before_s, bool announcement,
                                       const char *text);

/// Release, and set to empty.
void cw_take_free(CwTakeWords *take);

/// Put it all into the score.
/// @param[in,out] dropped Counts words of steps for which there was no time.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_speak(const CwPracticeOptions *options, CwClips *clips, unsigned rate_hz, CwTakeWords *take,
                               CwScore *score, size_t *dropped);

/// Put words into the score that begin at a time. @param[out] to_s Where they end. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_speak_at(CwClips *clips, unsigned rate_hz, const char *text, double from_s, CwScore *score,
                                  double *to_s);

#endif
