// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "countwright/print.h"
#include "print/csv.h"
#include "print/digits.h"

static void put_row(CwCsv *csv, const CwDriftTable *table, const CwDriftOther *other, size_t i)
{
  const CwDriftRow *row = &other->drift.row[i];
  cw_csv_text(csv, table->name);
  cw_csv_text(csv, other->name);
  cw_csv_whole(csv, row->number);
  cw_csv_text(csv, table->section ? table->section[i] : NULL);
  cw_csv_whole(csv, row->counts);
  cw_csv_flag(csv, row->present);
  cw_csv_number(csv, row->a_start_s, CW_TIME_DIGITS);
  cw_csv_number(csv, row->a_end_s, CW_TIME_DIGITS);
  cw_csv_number(csv, row->a_counts_per_min, CW_TEMPO_DIGITS);
  cw_csv_number(csv, row->b_start_s, CW_TIME_DIGITS);
  cw_csv_number(csv, row->b_end_s, CW_TIME_DIGITS);
  cw_csv_number(csv, row->b_counts_per_min, CW_TEMPO_DIGITS);
  cw_csv_number(csv, row->percent, CW_PERCENT_DIGITS);
  cw_csv_flag(csv, fabs(row->percent) < CW_JUST_NOTICEABLE_PERCENT);
  cw_csv_number(csv, row->ahead_s, CW_TIME_DIGITS);
  cw_csv_end_record(csv);
}

CwStatus cw_drift_csv(const CwDriftTable *table, FILE *out)
{
  static const char *const names[] = {
      "a",         "b",       "phrase",           "section",   "counts",  "in_b",
      "a_start_s", "a_end_s", "a_counts_per_min", "b_start_s", "b_end_s", "b_counts_per_min",
      "percent",   "same",    "ahead_s",          NULL};
  CwCsv csv = cw_csv_begin(names, out);
  for (size_t o = 0; o < table->n; o++) {
    for (size_t i = 0; i < table->other[o].drift.n; i++) {
      put_row(&csv, table, &table->other[o], i);
    }
  }
  return cw_csv_end(&csv);
}
