// SPDX-License-Identifier: GPL-3.0-or-later
/// Which phrases a role needs.
#include <stdint.h>
#include <stdlib.h>
#include <strings.h>

#include "base/memory.h"
#include "countwright/practice.h"

static size_t row_of(const CwSheet *sheet, unsigned number)
{
  for (size_t r = 0; r < sheet->n_rows; r++) {
    if (sheet->row[r].number == number) {
      return r;
    }
  }
  return SIZE_MAX;
}

/// The rows of a stretch on stage: one that ends with a one ends with the phrase before it.
static bool rows_of(const CwSheet *sheet, const CwStay *stay, CwPassage *passage)
{
  passage->first = row_of(sheet, stay->number);
  passage->last = row_of(sheet, stay->until_number);
  if (passage->first == SIZE_MAX || passage->last == SIZE_MAX || !stay->on) {
    return false;
  }
  passage->last -= stay->until_count <= 1 && passage->last > passage->first;
  return passage->first <= passage->last;
}

static const CwCastRole *find_role(const CwSheet *sheet, const char *role)
{
  for (size_t i = 0; i < sheet->cast.n_roles; i++) {
    const char *name = sheet->cast.role[i].role;
    if (!role || (name && strcasecmp(name, role) == 0)) {
      return &sheet->cast.role[i];
    }
  }
  return NULL;
}

static CwStatus gather(const CwSheet *sheet, const char *role, bool entrances, CwPassage **passage, size_t *n)
{
  *passage = NULL;
  *n = 0;
  const CwCastRole *found = find_role(sheet, role);
  if (!found || found->n_stays == 0) {
    return CW_OK;
  }
  CwPassage *made = cw_new(found->n_stays, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < found->n_stays; i++) {
    CwPassage rows;
    if (!rows_of(sheet, &found->stay[i], &rows)) {
      continue;
    }
    if (entrances) {
      rows.last = rows.first;
      rows.first -= rows.first > 0;
    }
    made[(*n)++] = rows;
  }
  if (*n == 0) {
    free(made);
    made = NULL;
  }
  *passage = made;
  return CW_OK;
}

CwStatus cw_practice_entrances(const CwSheet *sheet, const char *role, CwPassage **passage, size_t *n)
{
  return gather(sheet, role, true, passage, n);
}

CwStatus cw_practice_on_stage(const CwSheet *sheet, const char *role, CwPassage **passage, size_t *n)
{
  return gather(sheet, role, false, passage, n);
}
