// SPDX-License-Identifier: GPL-3.0-or-later
/// Answers that are about a piece.
#ifndef CW_DESK_ANSWER_H
#define CW_DESK_ANSWER_H

#include "countwright/desk.h"
#include "desk/piece.h"
#include "desk/request.h"

/// Answer with the piece, or why it could not be changed (by errno, where it was not written).
void desk_answer_piece(DeskResponse *response, const DeskPiece *piece, CwStatus status);

/// The piece of that name; the lock must be held. @return NULL when there is none; then it is answered.
DeskPiece *desk_piece_asked(CwDesk *desk, const char *name, DeskResponse *response);

/// Answer with a file, or the part of it that is asked for. @param fd Taken over.
void desk_send_file(int fd, const struct stat *facts, const char *name, const DeskRequest *request,
                    DeskResponse *response);

#endif
