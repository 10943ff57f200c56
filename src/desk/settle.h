// SPDX-License-Identifier: GPL-3.0-or-later
/// Counts brought in line with notes that have changed: pins at once, all else by listening again.
#ifndef CW_DESK_SETTLE_H
#define CW_DESK_SETTLE_H

#include "desk/piece.h"

/// The notes are others now. @param before As they were; empty when there were none.
void desk_settle(DeskPiece *piece, const CwNotebook *before);

/// Forget all that was found in the recording, because it is another one, and listen to it.
void desk_piece_forget_music(DeskPiece *piece);

/// Forget what was listened to, but not where the counts are.
void desk_piece_forget_session(DeskPiece *piece);

/// Forget what was measured, too.
void desk_piece_forget_features(DeskPiece *piece);

/// Move a count of a line, and those around it a little less. @return Whether that could be.
bool desk_bend(CwCountLine *line, size_t phrase, double count, double time_s);

#endif
