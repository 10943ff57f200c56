// SPDX-License-Identifier: GPL-3.0-or-later
/// Breaking clean UTF-8 text into lines of so many terminal columns, between words where Unicode allows it (UAX 14),
/// otherwise between grapheme clusters (UAX 29), never inside one.
#ifndef CW_PRINT_WRAP_H
#define CW_PRINT_WRAP_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/status.h"

/// A line: part of the text that was wrapped, without the spaces around it.
typedef struct {
  const char *text;
  size_t length; ///< bytes
} CwSlice;

/// Lines of a text. Release with cw_lines_free(); the text must outlive them.
typedef struct {
  CwSlice *line;
  size_t n;
} CwLines;

/// Width in terminal columns (wide East Asian characters count two, combining marks none).
unsigned cw_text_width(const char *text, size_t length);

/// Columns of the widest piece that has no place to break. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_widest_piece(const char *text, unsigned *columns);

/// Break text into lines of at most `columns` (2 or more) columns; a newline always ends a line. No text, no lines.
/// @return CW_OK or CW_ERR_NO_MEM; on error `lines` is empty.
CW_NODISCARD CwStatus cw_wrap(const char *text, unsigned columns, CwLines *lines);

/// Release and set to empty.
void cw_lines_free(CwLines *lines);

#endif
