// SPDX-License-Identifier: GPL-3.0-or-later
/// Counts written as marks.
#ifndef CW_CHANGES_MARKS_H
#define CW_CHANGES_MARKS_H

#include <stddef.h>

#include "countwright/notebook.h"

/// A step with all its counts: the first has the words, those after it have none.
typedef struct {
  const CwStep *step;
  size_t n;
} CwWholeStep;

/// The whole step that begins with step `i` of `n`.
CwWholeStep cw_whole_step(const CwStep *step, size_t n, size_t i);

/// Its counts as marks, such as "3&4", "1-4" or "1, 7". @return Release with free(); NULL when memory runs out.
char *cw_marks_text(CwWholeStep whole);

#endif
