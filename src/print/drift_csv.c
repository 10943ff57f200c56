// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/print.h"
#include "print/csv.h"
#include "print/digits.h"

CwStatus cw_drift_csv(const CwDrift *drift, const CwDriftLabels *labels, FILE *out)
{
  static const char *const names[] = {
      "a",         "b",       "phrase",           "counts",  "in_b",    "a_start_s", "a_end_s", "a_counts_per_min",
      "b_start_s", "b_end_s", "b_counts_per_min", "percent", "ahead_s", NULL};
  CwCsv csv = cw_csv_begin(names, out);
  for (size_t i = 0; i < drift->n; i++) {
    const CwDriftRow *row = &drift->row[i];
    cw_csv_text(&csv, labels->a_name);
    cw_csv_text(&csv, labels->b_name);
    cw_csv_whole(&csv, row->number);
    cw_csv_whole(&csv, row->counts);
    cw_csv_flag(&csv, row->present);
    cw_csv_number(&csv, row->a_start_s, CW_TIME_DIGITS);
    cw_csv_number(&csv, row->a_end_s, CW_TIME_DIGITS);
    cw_csv_number(&csv, row->a_counts_per_min, CW_TEMPO_DIGITS);
    cw_csv_number(&csv, row->b_start_s, CW_TIME_DIGITS);
    cw_csv_number(&csv, row->b_end_s, CW_TIME_DIGITS);
    cw_csv_number(&csv, row->b_counts_per_min, CW_TEMPO_DIGITS);
    cw_csv_number(&csv, row->percent, CW_PERCENT_DIGITS);
    cw_csv_number(&csv, row->ahead_s, CW_TIME_DIGITS);
    cw_csv_end_record(&csv);
  }
  return cw_csv_end(&csv);
}
