// SPDX-License-Identifier: GPL-3.0-or-later
/// True beats at the metrical levels that a listener may tap.
#ifndef CW_EVAL_LEVELS_H
#define CW_EVAL_LEVELS_H

#include <stddef.h>

#include "eval/scores.h"

typedef enum {
  CW_LEVEL_TRUE,
  CW_LEVEL_OFF_BEAT, ///< half-way between neighbouring beats
  CW_LEVEL_DOUBLE,   ///< the beats and the off-beats
  CW_LEVEL_ODD,      ///< the first, third, fifth ... beat
  CW_LEVEL_EVEN,     ///< the second, fourth, sixth ... beat
  CW_N_LEVELS
} CwLevel;

/// Beats as they stand at a level; none of their times is kept twice.
typedef struct {
  CwTimes beats;
  CwLevel level;
  size_t n; ///< beats at this level
} CwLevelView;

/// See beats at a level. There must be at least one beat.
CwLevelView cw_eval_level(CwTimes beats, CwLevel level);

/// Time of beat `i` of the level.
double cw_eval_level_time(const CwLevelView *view, size_t i);

/// The beat of a level next to a time: of several as near as each other, the first. The level must have a beat.
size_t cw_eval_nearest(const CwLevelView *view, double time_s);

#endif
