// SPDX-License-Identifier: GPL-3.0-or-later
/// The last comparison of recordings, until the next.
#ifndef CW_DESK_COMPARE_H
#define CW_DESK_COMPARE_H

#include <stddef.h>

#include "desk/names.h"

typedef struct {
  char name[DESK_NAME]; ///< of the piece; "" when there was none
  unsigned turn;        ///< goes up with each
  char *text;           ///< JSON
  char *chart;          ///< SVG; NULL when there is none
  size_t chart_size;
} DeskCompared;

void desk_compared_free(DeskCompared *compared);

#endif
