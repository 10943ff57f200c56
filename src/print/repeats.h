// SPDX-License-Identifier: GPL-3.0-or-later
/// Which phrases need no steps of their own on the sheet, because they only repeat another.
#ifndef CW_PRINT_REPEATS_H
#define CW_PRINT_REPEATS_H

#include <stdbool.h>

#include "countwright/sheet.h"

/// How a phrase is told to be like another.
typedef struct {
  unsigned number; ///< of the phrase it is like; 0 when none
  bool other_side; ///< than that one
  bool is_enough;  ///< naming that one is enough: it has the same steps, and they stand on the sheet
} CwRepeat;

/// Find the repeats of a sheet, one for each row. A repeat of a repeat names the first of them, which has the steps.
/// @return Release with free(); NULL when memory ran out.
CwRepeat *cw_repeats_find(const CwSheet *sheet);

#endif
