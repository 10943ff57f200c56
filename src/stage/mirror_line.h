// SPDX-License-Identifier: GPL-3.0-or-later
/// One line mirrored: which bytes become what, and which words are left in doubt.
#ifndef CW_STAGE_MIRROR_LINE_H
#define CW_STAGE_MIRROR_LINE_H

#include <stddef.h>

#include "stage/tokens.h"

/// Room for what takes a word's place.
enum { CW_EDIT_ROOM = 24 };

/// Bytes [begin, end) become `text`; or, in the list of doubts, stay.
typedef struct {
  size_t begin;
  size_t end;
  char text[CW_EDIT_ROOM];
} CwEdit;

/// The edits or the doubts of a line, in order. Zero to begin with; release with free(edit).
typedef struct {
  CwEdit *edit;
  size_t n;
  size_t capacity;
} CwEdits;

/// What is used again from line to line. Zero to begin with; release with cw_mirror_line_free().
typedef struct {
  CwTokens tokens;
  CwEdits edits;
  CwEdits doubts;
  CwEdits others;   ///< edits of the way back
  CwEdits unneeded; ///< doubts of the way back
  char *there;      ///< the mirrored line
  size_t there_room;
} CwMirrorLine;

/// Mirror a line. A line that would not mirror back to itself stays as it is, and is in doubt as a whole.
/// @param[out] out The mirrored line, valid until the next call. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_mirror_line(CwMirrorLine *line, const char *text, size_t size, const char **out,
                                     size_t *out_size);

/// Release and set to empty.
void cw_mirror_line_free(CwMirrorLine *line);

#endif
