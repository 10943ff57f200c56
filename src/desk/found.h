// SPDX-License-Identifier: GPL-3.0-or-later
/// What was found in a piece, kept on disk, so that it is there at once the next time. It is found again meanwhile.
#ifndef CW_DESK_FOUND_H
#define CW_DESK_FOUND_H

#include "desk/piece.h"

/// Keep counts and beats. What goes wrong is passed over.
void desk_found_keep(const DeskPiece *piece);

/// Take what is kept, where notes and recording are the same as then. @return Whether it was; `state` is then DESK_READY.
bool desk_found_load(DeskPiece *piece);

#endif
