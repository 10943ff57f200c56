// SPDX-License-Identifier: GPL-3.0-or-later
/// Where two texts differ, as one stretch; and two changes of one text put together.
#ifndef CW_DESK_DIFFERENCE_H
#define CW_DESK_DIFFERENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// A text. Belongs to whoever made it.
typedef struct {
  const char *text;
  size_t size;
} DeskText;

/// Bytes [at, old_end) of the old text became [at, new_end) of the new one.
typedef struct {
  size_t at;
  size_t old_end;
  size_t new_end;
} DeskDifference;

/// The shortest stretch in which two texts differ; it begins and ends between characters of UTF-8.
DeskDifference desk_difference(DeskText old, DeskText new);

/// The same in whole lines.
DeskDifference desk_difference_of_lines(DeskText old, DeskText new);

/// Put the changes of two texts that were made from one together.
/// @param[out] clash Both changed the same lines: nothing is put together.
/// @param[out] text Release with free(); NULL on error and on a clash.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus desk_merge(DeskText base, DeskText mine, DeskText theirs, bool *clash, char **text, size_t *size);

/// A text with a stretch [from, to) of it replaced. @return Release with free(); NULL when memory runs out.
char *desk_replace(DeskText text, size_t from, size_t to, DeskText by, size_t *size);

#endif
