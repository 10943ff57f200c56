// SPDX-License-Identifier: GPL-3.0-or-later
/// The pages of a PDF sheet: where the next thing stands, when a page is full, what stands on every page.
///
/// The sheet is set twice: dry, to count the pages, and then for good.
#ifndef CW_PRINT_PRESS_H
#define CW_PRINT_PRESS_H

#include "countwright/print.h"
#include "countwright/stage_plan.h"
#include "print/canvas.h"
#include "print/repeats.h"

/// A document being set.
typedef struct {
  CwCanvas canvas;
  const CwSheet *sheet;
  CwPage paper;
  CwRepeat *repeats;               ///< as many as the sheet has rows
  CwStagePlan *plans;              ///< of the stage, as many
  double left, right, top, bottom; ///< edges of what is printed on
  double y;                        ///< where the next thing stands
  unsigned page;                   ///< from 1
  unsigned pages;                  ///< in all; 0 in the dry run
  bool endless;                    ///< while a height is measured, a page never ends
  unsigned inside;                 ///< number of the phrase that is being set, 0 between phrases
  char *running_head;              ///< on every page but the first
  char *foot;                      ///< beside every page number
  CwPageOpener open;               ///< of pictures: gives the stream of each page
  void *context;                   ///< of it
  CwStatus status;                 ///< CW_OK, or what went wrong first
} CwPress;

/// Set up for a paper.
/// @param out Of a PDF; NULL for pictures, whose `open` and `context` are to be set.
/// @return CW_OK, CW_ERR_NO_MEM or CW_ERR_WRITE. Call cw_press_end() in each case.
CW_NODISCARD CwStatus cw_press_begin(CwPress *press, const CwSheet *sheet, const CwPage *page, CwCanvasKind kind,
                                     FILE *out);

/// Finish the file and release. @return CW_OK, CW_ERR_NO_MEM or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_press_end(CwPress *press);

/// Set everything larger or smaller than the page asks for, by `times`. Only before a run for good.
void cw_press_rescale(CwPress *press, double times);

/// Begin a run: on the first page, dry or for good; with pictures, its stream is asked for then.
void cw_press_rewind(CwPress *press, bool dry, unsigned pages);

/// End a run: the foot of the last page.
void cw_press_finish_page(CwPress *press);

/// Turn the page unless `height` is left on it.
void cw_press_need(CwPress *press, double height);

/// What an empty page has room for.
double cw_press_page_height(CwPress *press);

/// A paragraph from `x`, `width` wide, at y, which moves below it; lines that do not fit go to the next page.
void cw_press_flow(CwPress *press, CwFace face, const char *text, double x, double width);

#endif
