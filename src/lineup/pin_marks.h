// SPDX-License-Identifier: GPL-3.0-or-later
/// The pins of a notebook in one list, by the counts of the whole.
#ifndef CW_LINEUP_PIN_MARKS_H
#define CW_LINEUP_PIN_MARKS_H

#include <stddef.h>

#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

/// One pin.
typedef struct {
  size_t count;  ///< index of its count among all, from 0
  double part;   ///< how far into it: 0 up to, not including, 1
  double time_s; ///< within the recording
  size_t phrase; ///< where it was written, from 0
  size_t order;  ///< in which it was written
  size_t line;   ///< where it stands in the notes, from 1; 0 when it does not
  size_t column;
} CwPinMark;

/// Pins in the order of counts. Release with cw_pin_marks_free().
typedef struct {
  CwPinMark *mark;
  size_t n;
} CwPinMarks;

/// List the pins: the head's first one, those of the phrases, the ends of holds.
/// @param messages Told of pins outside the recording or where nothing is counted: they are left out.
/// @return CW_OK or CW_ERR_NO_MEM; on error the list is empty.
CW_NODISCARD CwStatus cw_pin_marks_read(const CwNotebook *notebook, double duration_s, CwPinMarks *marks,
                                        CwMessages *messages);

/// Release and set to empty.
void cw_pin_marks_free(CwPinMarks *marks);

#endif
