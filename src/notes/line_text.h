// SPDX-License-Identifier: GPL-3.0-or-later
/// One line of the notebook made easy to read: the same characters twice, once folded for comparing, once clean for
/// showing.
#ifndef CW_NOTES_LINE_TEXT_H
#define CW_NOTES_LINE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// Stands in CwLineText.key for every character that has no part in the grammar: letters beyond ASCII, mostly.
#define CW_OTHER_CHARACTER '\177'

/// Stands there for a letter of a script that writes no blanks between words (Chinese, Japanese, Thai ...): numbers stand
/// right beside it.
#define CW_UNSPACED_LETTER '\001'

/// And for such a letter that says what a number counts: 2回 is "2 times".
#define CW_COUNTING_LETTER '\002'

/// And for one that says that it is counts: 8拍 is "8 counts".
#define CW_COUNTS_LETTER '\003'

/// A line. Zero to begin with; reused from line to line; release with cw_line_text_free().
typedef struct {
  char *key;   ///< one byte a character, NUL at the end: lower-case ASCII; any blank is ' ', any dash '-', "×" is 'x',
               ///< any bullet '*', any quotation mark '"', "…" is '~'; full-width forms are their narrow ones
  char *words; ///< the same characters as valid UTF-8 without control characters
  size_t *at;  ///< first byte in `words` of each character, and where they end: n + 1
  size_t n;    ///< characters
  size_t capacity;    ///< bytes of input that there is room for
  bool repaired;      ///< some byte was not UTF-8 and is read as a Windows-1252 letter
  size_t repaired_at; ///< first such character
  bool control;       ///< there is a control character
  size_t control_at;
} CwLineText;

/// Read `size` bytes without a line end. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_line_text_read(CwLineText *text, const char *bytes, size_t size);

/// Copy the words of characters `from` to before `to`, without blanks at either end. @return NULL when memory runs out.
char *cw_line_text_copy(const CwLineText *text, size_t from, size_t to);

/// First character from `i` on, before `end`, that is no blank; `end` when there is none.
size_t cw_skip_blanks(const CwLineText *text, size_t i, size_t end);

/// The end of [from, end) without the blanks at its end.
size_t cw_trim_blanks(const CwLineText *text, size_t from, size_t end);

/// Release and set to empty.
void cw_line_text_free(CwLineText *text);

#endif
