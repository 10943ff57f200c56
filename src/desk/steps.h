// SPDX-License-Identifier: GPL-3.0-or-later
/// What was changed in notes, step by step, kept on disk so that it can be undone after the desk was closed, too.
#ifndef CW_DESK_STEPS_H
#define CW_DESK_STEPS_H

#include "desk/difference.h"
#include "desk/place.h"

/// A step: `old` at byte `at` became `new`.
typedef struct {
  size_t at;
  char *old;
  char *new;
} DeskStep;

typedef struct {
  DeskStep *step;
  size_t n, room;
  size_t done; ///< steps that are done; those behind can be done again
} DeskSteps;

/// Read what is kept of a notebook. Where the notebook was changed elsewhere meanwhile, that is a step, too.
/// @param text The notebook as it is now.
void desk_steps_load(const DeskPlace *place, const char *name, DeskText text, DeskSteps *steps);

/// Remember a change that is on disk now. What could be done again cannot any more.
/// @return CW_OK or CW_ERR_NO_MEM; what goes wrong on disk is passed over: it cannot be undone after a restart then.
CW_NODISCARD CwStatus desk_steps_add(const DeskPlace *place, const char *name, DeskText old, DeskText new,
                                     DeskSteps *steps);

/// The text with the last step undone, or the next one done again.
/// @param[out] text Release with free(); NULL when there is no such step.
/// @return CW_OK, CW_ERR_NOT_FOUND or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus desk_steps_move(const DeskSteps *steps, bool forward, DeskText now, char **text, size_t *size);

/// That text is on disk now.
void desk_steps_moved(const DeskPlace *place, const char *name, bool forward, DeskText now, DeskSteps *steps);

void desk_steps_free(DeskSteps *steps);

#endif
