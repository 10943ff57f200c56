// SPDX-License-Identifier: GPL-3.0-or-later
/// What an open desk is made of.
#ifndef CW_DESK_DESK_H
#define CW_DESK_DESK_H

#include <stdatomic.h>

#include "countwright/desk.h"
#include "desk/compare.h"
#include "desk/events.h"
#include "desk/guard.h"
#include "desk/piece.h"
#include "desk/place.h"
#include "desk/work.h"

struct MHD_Daemon;

/// Pieces that may be open at once.
enum { DESK_MOST_PIECES = 500 };

struct CwDesk {
  DeskPlace place;
  DeskGuard guard;
  DeskEvents events;
  const CwCache *cache;
  pthread_mutex_t lock; ///< of the pieces
  DeskPiece *pieces;
  size_t n_pieces;
  DeskWork work;
  DeskCompared compared;
  pthread_t watch; ///< looks whether notes are changed elsewhere
  bool watching;
  struct MHD_Daemon *daemon; ///< NULL before it is served
  char address[128];
  atomic_bool over;
};

/// Open all but the socket. @return As cw_desk_open().
CW_NODISCARD CwStatus desk_begin(const CwDeskOptions *options, CwDesk **desk, CwMessages *messages);

/// Take a port of this machine and answer there. @return CW_OK or CW_ERR_NO_ACCESS.
CW_NODISCARD CwStatus desk_serve(CwDesk *desk, unsigned port);

/// Answer no more.
void desk_unserve(CwDesk *desk);

#endif
