// SPDX-License-Identifier: GPL-3.0-or-later
/// The folder that a desk is open on, its own folder in it, and the lock that keeps a second desk away.
#ifndef CW_DESK_PLACE_H
#define CW_DESK_PLACE_H

#include "countwright/report.h"
#include "countwright/status.h"

/// Descriptors; -1 where there is none. Release with desk_place_close().
typedef struct {
  int folder; ///< what is in it is reached through this alone, so it may be moved meanwhile
  int own;    ///< CW_DESK_FOLDER in it
  int lock;
} DeskPlace;

/// Open and lock. @param[out] messages Why not. @return As cw_desk_open().
CW_NODISCARD CwStatus desk_place_open(const char *folder, DeskPlace *place, CwMessages *messages);

/// Write into the lock where the desk is, for who comes second.
void desk_place_tell(const DeskPlace *place, const char *address);

/// A folder in the desk's own. @return Its descriptor, to be closed; -1 when there can be none.
int desk_place_part(const DeskPlace *place, const char *name);

void desk_place_close(DeskPlace *place);

#endif
