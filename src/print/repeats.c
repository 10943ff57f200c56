// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/repeats.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"

/// Whether two phrases have the same steps.
static bool is_same(const CwSheetRow *a, const CwSheetRow *b)
{
  if (a->counts != b->counts || a->n_steps != b->n_steps) {
    return false;
  }
  for (size_t i = 0; i < a->n_steps; i++) {
    if (fabs(a->step[i].count - b->step[i].count) > 1e-6 || fabs(a->step[i].until - b->step[i].until) > 1e-6 ||
        strcmp(a->step[i].text, b->step[i].text) != 0) {
      return false;
    }
  }
  return true;
}

/// The earlier phrase that row `i` is like, when it is on the sheet.
static const CwSheetRow *model_of(const CwSheet *sheet, size_t i)
{
  const unsigned like = sheet->row[i].like;
  const CwSheetRow *model = like > 0 && like <= i ? &sheet->row[like - 1] : NULL;
  return model && model->number == like ? model : NULL;
}

CwRepeat *cw_repeats_find(const CwSheet *sheet)
{
  CwRepeat *repeats = cw_new(sheet->n_rows, sizeof *repeats);
  for (size_t i = 0; repeats && i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    const CwSheetRow *model = model_of(sheet, i);
    const bool is_enough = row->like && (row->n_steps == 0 || (model && is_same(row, model)));
    repeats[i] = (CwRepeat){row->like, row->other_side, is_enough};
    if (is_enough && model && repeats[row->like - 1].is_enough) {
      const CwRepeat *before = &repeats[row->like - 1];
      repeats[i] = (CwRepeat){before->number, row->other_side != before->other_side, true};
    }
  }
  return repeats;
}
