// SPDX-License-Identifier: GPL-3.0-or-later
/// The plan of the stage beside a phrase.
#ifndef CW_PRINT_STAGE_PDF_H
#define CW_PRINT_STAGE_PDF_H

#include "countwright/stage_plan.h"
#include "print/press.h"

/// The plans of all phrases, each going on from the one before. @return As many as the sheet has rows; NULL when memory
/// runs out. Release with cw_stage_plans_free().
CwStagePlan *cw_stage_plans_make(const CwSheet *sheet);

/// Release `n` plans. NULL is accepted.
void cw_stage_plans_free(CwStagePlan *plans, size_t n);

/// The plan to set beside a row; NULL when there is nothing to draw, or the phrase that it is like has it.
const CwStagePlan *cw_stage_plan_of(const CwPress *press, const CwSheetRow *row, const CwRepeat *repeat);

/// Whether any phrase has a plan beside it.
bool cw_stage_plans_any(const CwPress *press);

/// Width that a plan takes of the row, with its gutter; 0 for none.
double cw_stage_plan_room(const CwStagePlan *plan);

/// Set a plan with its top left corner there. @return Where it ends; `y` when it is NULL.
double cw_stage_plan_set(CwPress *press, const CwStagePlan *plan, double x, double y);

#endif
