// SPDX-License-Identifier: GPL-3.0-or-later
// A role's own sheet: what she dances, and what she has to wait for.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/sheet.h"

static void free_steps(CwStep *step, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    free(step[i].text);
  }
  free(step);
}

static void free_part(CwSheetPart *part)
{
  free_steps(part->step, part->n_steps);
  free(part->role);
  free(part->leader);
  free(part->remark);
  memset(part, 0, sizeof *part);
}

/// Whether a role is off stage through all of a phrase.
static bool is_off(const CwCastRole *role, const CwSheetRow *row)
{
  for (size_t i = 0; i < role->n_stays; i++) {
    const CwStay *stay = &role->stay[i];
    const bool begun = stay->number < row->number || (stay->number == row->number && stay->count <= 1);
    const bool goes_on = stay->until_number > row->number ||
                         (stay->until_number == row->number && stay->until_count >= row->counts + 1.0);
    if (!stay->on && begun && goes_on) {
      return true;
    }
  }
  return false;
}

/// What a part does becomes the phrase's own; what was its own is the part's.
static void swap(CwSheetRow *row, CwSheetPart *part)
{
  const CwSheetPart own = {.role = row->role, .step = row->step, .n_steps = row->n_steps, .remark = row->remark};
  row->role = part->role;
  row->step = part->step;
  row->n_steps = part->n_steps;
  row->remark = part->remark;
  row->like = 0; // the phrase it names is perhaps another role's
  row->other_side = part->other_side;
  free(part->leader);
  *part = own;
}

/// The part of a role in a phrase; NULL when it has none.
static CwSheetPart *part_of(CwSheetRow *row, const char *role)
{
  for (size_t i = 0; i < row->n_parts; i++) {
    if (row->part[i].role && cw_role_names(row->part[i].role, role)) {
      return &row->part[i];
    }
  }
  return NULL;
}

static void keep(CwSheetRow *row, const CwCastRole *role)
{
  CwSheetPart *part = part_of(row, role->role);
  const bool named = row->role && cw_role_names(row->role, role->role);
  if (part && !named) {
    swap(row, part);
  }
  for (size_t i = 0; i < row->n_parts; i++) {
    free_part(&row->part[i]);
  }
  row->n_parts = 0;
  row->off = is_off(role, row);
  row->others = row->off || (row->role && !part && !named);
  if (row->others) {
    free_steps(row->step, row->n_steps);
    row->step = NULL;
    row->n_steps = 0;
    row->like = 0;
    row->other_side = false;
    row->canon_apart = 0;
  }
}

/// A phrase that is like one that shows no steps has to show its own.
static void forget_likes(CwSheet *sheet)
{
  for (size_t i = 0; i < sheet->n_rows; i++) {
    CwSheetRow *row = &sheet->row[i];
    if (row->like > 0 && row->like <= sheet->n_rows && sheet->row[row->like - 1].others) {
      row->like = 0;
    }
  }
}

CwStatus cw_sheet_keep_role(CwSheet *sheet, const char *role, bool *found)
{
  *found = cw_cast_keep(&sheet->cast, role);
  if (!*found) {
    return CW_OK;
  }
  const CwCastRole *kept = &sheet->cast.role[0];
  char *name = cw_copy_text(kept->role, strlen(kept->role));
  if (!name) {
    return CW_ERR_NO_MEM;
  }
  free(sheet->role);
  sheet->role = name;
  sheet->cast_shown = true;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    keep(&sheet->row[i], kept);
  }
  forget_likes(sheet);
  return CW_OK;
}
