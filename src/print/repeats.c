// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/repeats.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"

static bool same_steps(const CwStep *a, size_t n_a, const CwStep *b, size_t n_b)
{
  bool same = n_a == n_b;
  for (size_t i = 0; i < n_a && same; i++) {
    same = fabs(a[i].count - b[i].count) < 1e-6 && fabs(a[i].until - b[i].until) < 1e-6 &&
           strcmp(a[i].text, b[i].text) == 0;
  }
  return same;
}

static bool same_name(const char *a, const char *b)
{
  return a == b || (a && b && strcmp(a, b) == 0);
}

/// Whether two phrases have the same steps, and others the same beside them.
static bool is_same(const CwSheetRow *a, const CwSheetRow *b)
{
  bool same =
      a->counts == b->counts && a->n_parts == b->n_parts && same_steps(a->step, a->n_steps, b->step, b->n_steps);
  for (size_t i = 0; i < a->n_parts && same; i++) {
    same = same_name(a->part[i].role, b->part[i].role) &&
           same_steps(a->part[i].step, a->part[i].n_steps, b->part[i].step, b->part[i].n_steps);
  }
  return same;
}

/// Index of the earlier phrase that row `i` is like; `i` when it is not on the sheet, which may begin in the middle.
static size_t model_of(const CwSheet *sheet, size_t i)
{
  const unsigned first = sheet->row[0].number;
  const unsigned like = sheet->row[i].like;
  const size_t model = like - first; // wraps below the first
  return like >= first && model < i && sheet->row[model].number == like ? model : i;
}

CwRepeat *cw_repeats_find(const CwSheet *sheet)
{
  CwRepeat *repeats = cw_new(sheet->n_rows, sizeof *repeats);
  for (size_t i = 0; repeats && i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    const size_t model = model_of(sheet, i);
    const bool same = model < i && is_same(row, &sheet->row[model]) && !sheet->repeats_written;
    const bool is_enough = row->like && (row->n_steps == 0 || same);
    repeats[i] = (CwRepeat){row->like, row->other_side, is_enough};
    if (is_enough && model < i && repeats[model].is_enough) {
      const CwRepeat *before = &repeats[model];
      repeats[i] = (CwRepeat){before->number, row->other_side != before->other_side, true};
    }
  }
  return repeats;
}
