// SPDX-License-Identifier: GPL-3.0-or-later
/// A piece on the desk: notes, their recording, and what is known of both. All of it is under the desk's lock, but for
/// what the thread that listens has of its own.
#ifndef CW_DESK_PIECE_H
#define CW_DESK_PIECE_H

#include <stdbool.h>
#include <sys/types.h>
#include <time.h>

#include <jansson.h>

#include "countwright/beats.h"
#include "countwright/count_line.h"
#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/session.h"
#include "countwright/taps.h"
#include "desk/names.h"
#include "desk/steps.h"

/// What shows whether a file was changed.
typedef struct {
  ino_t file;
  off_t size;
  struct timespec changed;
} DeskMark;

/// How far it is.
typedef enum {
  DESK_NO_MUSIC, ///< there is no recording
  DESK_WAITING,  ///< it is not listened to yet
  DESK_READY,    ///< `line` is there
  DESK_FAILED    ///< `problem` says why
} DeskState;

/// Digits of a version, NUL included: SHA-256 of a text.
enum { DESK_VERSION = 65 };

typedef struct DeskPiece {
  struct CwDesk *desk;
  char name[DESK_NAME];      ///< its notes, or its recording when it has none
  char notes[DESK_NAME];     ///< "" when there are none
  char recording[DESK_NAME]; ///< "" when there is none in the folder
  char *text;                ///< of the notes as on disk; NULL when there are none
  size_t size;
  char version[DESK_VERSION];
  DeskMark mark;
  bool writable; ///< the notes are UTF-8 without NUL; others are not written
  CwNotebook notebook;
  DeskSteps steps;
  DeskState state;
  bool listening; ///< a better line is on its way
  char problem[200];
  CwCountLine line;
  CwBeats beats;
  CwMessages messages; ///< what does not add up
  CwTapsFound tapped;
  bool has_taps;
  CwFeatures *features; ///< of the recording; NULL until it is listened to
  const CwFeatures
      *in_use;        ///< by the thread that listens, which then releases them if they are not `features` any more
  bool queued;        ///< that thread will come to it
  CwSession *session; ///< settles pins at once; NULL: only by listening again
  CwNotebook *session_notes;
  _Atomic unsigned turn; ///< goes up when what was found must be found again
  double used_s;
  struct DeskPiece *next;
} DeskPiece;

/// The piece of that name, opened if it is not yet; the lock must be held.
/// @return NULL when there is no such file, or memory ran out.
DeskPiece *desk_piece(struct CwDesk *desk, const char *name);

/// Look whether the notes were changed on disk, and take them as they are there. @return Whether they were changed.
bool desk_piece_refresh(DeskPiece *piece);

/// Write notes, after they were refreshed. What was there before can be undone.
/// @return CW_OK, CW_ERR_WRITE, CW_ERR_NO_ACCESS, CW_ERR_UNSUPPORTED (they cannot be written: no UTF-8) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus desk_piece_write(DeskPiece *piece, const char *text, size_t size);

/// Undo a step, or do one again. @return As desk_piece_write(), or CW_ERR_NOT_FOUND.
CW_NODISCARD CwStatus desk_piece_step(DeskPiece *piece, bool forward);

/// Give a recording without notes a notebook of its own, with a line for each phrase that was found.
/// @param beats_per_count 0: as found. @return As desk_piece_write().
CW_NODISCARD CwStatus desk_piece_begin_notes(DeskPiece *piece, double beats_per_count);

/// Notes of counts alone, without a word, at another level. @param[out] text Release with free(); NULL on error.
/// @return CW_OK, CW_ERR_BAD_ARG or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus desk_level_of_bare(const DeskPiece *piece, double beats_per_count, char **text, size_t *size);

/// The version of its text.
void desk_piece_name_version(DeskPiece *piece);

/// Listen to it, when the thread that does so comes to it.
void desk_piece_listen(DeskPiece *piece);

/// All about it for the page. @return NULL when memory runs out.
json_t *desk_piece_json(const DeskPiece *piece);

void desk_piece_free(DeskPiece *piece);

/// The mark of a file.
DeskMark desk_mark(const struct stat *facts);
bool desk_same_mark(const DeskMark *a, const DeskMark *b);

#endif
