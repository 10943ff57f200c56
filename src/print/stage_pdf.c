// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/stage_pdf.h"

#include <stdlib.h>

#include "base/memory.h"

CwStagePlan *cw_stage_plans_make(const CwSheet *sheet)
{
  CwStagePlan where = {0}; // everyone is after the phrase before
  CwStagePlan *plans = cw_new(sheet->n_rows + 1, sizeof *plans);
  for (size_t i = 0; plans && i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    CwStatus status = cw_stage_plan_make(row->step, row->n_steps, row->remark, row->role, &where, &plans[i]);
    for (size_t k = 0; k < row->n_parts && status == CW_OK; k++) {
      const CwSheetPart *part = &row->part[k];
      status = cw_stage_plan_add(part->step, part->n_steps, part->remark, part->role, &where, &plans[i]);
    }
    if (status == CW_OK) {
      status = cw_stage_plan_go_on(&plans[i], &where);
    }
    if (status != CW_OK) {
      cw_stage_plans_free(plans, i + 1);
      plans = NULL;
    }
  }
  cw_stage_plan_free(&where);
  return plans;
}

void cw_stage_plans_free(CwStagePlan *plans, size_t n)
{
  for (size_t i = 0; plans && i < n; i++) {
    cw_stage_plan_free(&plans[i]);
  }
  free(plans);
}

const CwStagePlan *cw_stage_plan_of(const CwPress *press, const CwSheetRow *row, const CwRepeat *repeat)
{
  const CwStagePlan *plan = &press->plans[row - press->sheet->row];
  return !repeat->is_enough && cw_stage_plan_shows(plan) ? plan : NULL;
}

bool cw_stage_plans_any(const CwPress *press)
{
  for (size_t i = 0; i < press->sheet->n_rows; i++) {
    if (cw_stage_plan_of(press, &press->sheet->row[i], &press->repeats[i])) {
      return true;
    }
  }
  return false;
}

double cw_stage_plan_room(const CwStagePlan *plan)
{
  return plan ? CW_STAGE_WIDTH + CW_GUTTER : 0;
}

double cw_stage_plan_set(CwPress *press, const CwStagePlan *plan, double x, double y)
{
  if (!plan) {
    return y;
  }
  if (!press->canvas.dry) {
    cw_stage_plan_draw(press->canvas.cr, plan, x, y, CW_STAGE_WIDTH, CW_FONTS);
  }
  return y + cw_stage_plan_height(CW_STAGE_WIDTH);
}
