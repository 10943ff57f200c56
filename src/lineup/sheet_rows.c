// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/sheet_rows.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

void cw_sheet_measure(CwSheet *sheet)
{
  sheet->first_one_s = NAN;
  sheet->slowest_per_min = NAN;
  sheet->fastest_per_min = NAN;
  for (size_t i = 0; i < sheet->n_rows; i++) { // fmin() and fmax() pass over NaN
    sheet->first_one_s = fmin(sheet->first_one_s, sheet->row[i].start_s);
    sheet->slowest_per_min = fmin(sheet->slowest_per_min, sheet->row[i].counts_per_min);
    sheet->fastest_per_min = fmax(sheet->fastest_per_min, sheet->row[i].counts_per_min);
  }
}

static void free_steps(CwStep *step, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    free(step[i].text);
  }
  free(step);
}

static void free_row(CwSheetRow *row)
{
  free_steps(row->step, row->n_steps);
  for (size_t i = 0; i < row->n_parts; i++) {
    free_steps(row->part[i].step, row->part[i].n_steps);
    free(row->part[i].role);
    free(row->part[i].leader);
    free(row->part[i].remark);
  }
  free(row->part);
  free(row->section);
  free(row->remark);
  free(row->role);
}

void cw_sheet_free(CwSheet *sheet)
{
  if (!sheet) {
    return;
  }
  for (size_t i = 0; i < sheet->n_rows; i++) {
    free_row(&sheet->row[i]);
  }
  free(sheet->row);
  free(sheet->piece);
  free(sheet->dance);
  free(sheet->role);
  free(sheet->recording);
  free(sheet->language);
  free(sheet->other);
  cw_messages_free(&sheet->message);
  cw_cast_free(&sheet->cast);
  memset(sheet, 0, sizeof *sheet);
}

/// The heading that goes on over row `first`, taken from its own row; NULL when there is none.
static char *take_heading(CwSheet *sheet, size_t first)
{
  for (size_t i = first + 1; i-- > 0;) {
    char *heading = sheet->row[i].section;
    if (heading) {
      sheet->row[i].section = NULL;
      return heading;
    }
  }
  return NULL;
}

/// How the counts were counted before row `first` is told with it, where that changed after the sheet's head.
static void bring_changes(CwSheet *sheet, size_t first)
{
  CwSheetRow *row = &sheet->row[first];
  for (size_t i = first; i-- > 0;) {
    const CwSheetRow *before = &sheet->row[i];
    if (row->metre == 0 && before->metre > 0) {
      row->metre = before->metre;
      row->metre_unit = before->metre_unit;
    }
    row->beats_per_count = row->beats_per_count > 0 ? row->beats_per_count : before->beats_per_count;
  }
}

void cw_sheet_keep_phrases(CwSheet *sheet, size_t first, size_t last)
{
  bring_changes(sheet, first);
  sheet->row[first].section = take_heading(sheet, first);
  sheet->whole = (unsigned)sheet->n_rows;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (i < first || i > last) {
      free_row(&sheet->row[i]);
    }
  }
  sheet->n_rows = last - first + 1;
  memmove(sheet->row, sheet->row + first, sheet->n_rows * sizeof *sheet->row);
  cw_sheet_measure(sheet);
}

CwStatus cw_sheet_compare(CwSheet *sheet, const CwDrift *drift, const char *name)
{
  char *copy = cw_copy_text(name, strlen(name));
  if (!copy) {
    return CW_ERR_NO_MEM;
  }
  free(sheet->other);
  sheet->other = copy;
  for (size_t i = 0, k = 0; i < sheet->n_rows; i++) { // both ascend by number
    CwSheetRow *row = &sheet->row[i];
    row->other = (CwSheetOther){false, NAN, NAN, NAN, NAN};
    while (k < drift->n && drift->row[k].number < row->number) {
      k++;
    }
    if (k < drift->n && drift->row[k].number == row->number && drift->row[k].present) {
      const CwDriftRow *there = &drift->row[k];
      row->other = (CwSheetOther){true, there->b_start_s, there->b_counts_per_min, there->percent, there->ahead_s};
    }
  }
  return CW_OK;
}
