// SPDX-License-Identifier: GPL-3.0-or-later
/// @file desk.h
/// The desk: a page on this machine for a folder of recordings and notebooks, shown by a browser. All that it does, it
/// does through the other functions of this library, and all that it knows is in the folder's plain files.
///
/// It listens on 127.0.0.1 only. Its address holds a secret that lets one browser in, once; that browser is then known
/// by a cookie. Nothing outside the folder is read or written, and no link is followed out of it.
#ifndef COUNTWRIGHT_DESK_H
#define COUNTWRIGHT_DESK_H

#include <stdbool.h>

#include "countwright/api.h"
#include "countwright/cache.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// The folder beside the music in which the desk keeps what it needs: its lock, versions before, steps to undo. All but
/// what can be undone is found again when it is removed.
#define CW_DESK_FOLDER ".countwright"

/// An open desk. Opaque.
typedef struct CwDesk CwDesk;

/// How to open one.
typedef struct {
  const char *folder;   ///< with the recordings and notebooks
  unsigned port;        ///< 0: any that is free
  const CwCache *cache; ///< of what is measured; must outlive the desk; NULL for none
} CwDeskOptions;

/// Open a desk and serve it, on threads of its own, until it is closed.
/// @param[out] desk Close with cw_desk_close(); NULL on error.
/// @param[out] messages Why not, in words; appended to.
/// @return CW_OK, CW_ERR_EXISTS (a desk is open on that folder already), CW_ERR_NOT_FOUND, CW_ERR_NO_ACCESS (the folder
/// or the port), CW_ERR_BAD_ARG (not a folder) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_desk_open(const CwDeskOptions *options, CwDesk **desk, CwMessages *messages);

/// The address to open, with its secret. Owned by the desk.
CW_API const char *cw_desk_address(const CwDesk *desk);

/// Whether the page was asked to close the desk.
CW_API bool cw_desk_is_over(const CwDesk *desk);

/// Let no one in any more, end what is going on, save what is unsaved, and release. NULL is accepted.
CW_API void cw_desk_close(CwDesk *desk);

CW_END

#endif
