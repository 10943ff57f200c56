// SPDX-License-Identifier: GPL-3.0-or-later
/// Taps of a piece: a plain file beside it, NAME.taps, which 'sheet --taps' reads, too.
#ifndef CW_DESK_TAP_FILE_H
#define CW_DESK_TAP_FILE_H

#include "countwright/taps.h"
#include "desk/piece.h"

/// The name of its file, "ferrymen.taps" for "ferrymen.txt". @return false when that would be too long.
bool desk_taps_name(const char *piece, char out[DESK_NAME]);

/// Read them. @param[out] taps Empty when there are none; release with cw_taps_free().
void desk_taps_read(const DeskPiece *piece, CwTaps *taps);

#endif
