// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "countwright/print.h"
#include "print/csv.h"
#include "print/digits.h"
#include "print/words.h"

static const char *const names[] = {"phrase",
                                    "counts",
                                    "section",
                                    "role",
                                    "start_s",
                                    "end_s",
                                    "counts_per_min",
                                    "change_percent",
                                    "confidence",
                                    "check_by_ear",
                                    "pinned",
                                    "like",
                                    "other_side",
                                    "count_in",
                                    "hold_s",
                                    "other_start_s",
                                    "other_counts_per_min",
                                    "other_percent",
                                    "other_ahead_s",
                                    "remark",
                                    "count",
                                    "until",
                                    "label",
                                    "step",
                                    NULL};

/// Where the phrase is in the recording that the sheet is held against.
static void put_other(CwCsv *csv, const CwSheetOther *other)
{
  cw_csv_number(csv, other->present ? other->start_s : (double)NAN, CW_TIME_DIGITS);
  cw_csv_number(csv, other->present ? other->counts_per_min : (double)NAN, CW_TEMPO_DIGITS);
  cw_csv_number(csv, other->present ? other->percent : (double)NAN, CW_PERCENT_DIGITS);
  cw_csv_number(csv, other->present ? other->ahead_s : (double)NAN, CW_TIME_DIGITS);
}

/// What concerns the phrase as a whole; it stands in each of its records.
static void put_phrase(CwCsv *csv, const CwSheetRow *row, const CwSheetPart *part, const char *section)
{
  cw_csv_whole(csv, row->number);
  cw_csv_whole(csv, row->counts);
  cw_csv_text(csv, section);
  cw_csv_text(csv, part ? part->role : row->role);
  cw_csv_number(csv, row->start_s, CW_TIME_DIGITS);
  cw_csv_number(csv, row->end_s, CW_TIME_DIGITS);
  cw_csv_number(csv, row->counts_per_min, CW_TEMPO_DIGITS);
  cw_csv_number(csv, row->change_percent, CW_PERCENT_DIGITS);
  cw_csv_number(csv, cw_known(row->confidence, 0), CW_CONFIDENCE_DIGITS);
  cw_csv_flag(csv, row->check_by_ear);
  cw_csv_flag(csv, row->pinned);
  cw_csv_whole_or_empty(csv, part ? part->like : row->like);
  cw_csv_flag(csv, part ? part->other_side : row->other_side);
  cw_csv_whole(csv, row->count_in);
  cw_csv_number(csv, row->hold_s, CW_TIME_DIGITS);
  put_other(csv, &row->other);
  cw_csv_text(csv, part ? part->remark : row->remark);
}

static void put_step(CwCsv *csv, const CwStep *step)
{
  char label[CW_WORD_ROOM];
  cw_count_label(step->count, label); // not "1-4", which a spreadsheet takes for a day of the year
  cw_csv_number(csv, step->count, CW_COUNT_DIGITS);
  cw_csv_number(csv, step->until, CW_COUNT_DIGITS);
  cw_csv_text(csv, label);
  cw_csv_text(csv, step->text);
}

static void put_no_step(CwCsv *csv)
{
  for (int i = 0; i < 4; i++) {
    cw_csv_text(csv, NULL);
  }
}

/// A record for each step, one without a step where there are none.
static void put_records(CwCsv *csv, const CwSheetRow *row, const CwSheetPart *part, const char *section)
{
  const CwStep *step = part ? part->step : row->step;
  const size_t n = part ? part->n_steps : row->n_steps;
  for (size_t k = 0; k < (n ? n : 1); k++) {
    put_phrase(csv, row, part, section);
    if (n) {
      put_step(csv, &step[k]);
    } else {
      put_no_step(csv);
    }
    cw_csv_end_record(csv);
  }
}

CwStatus cw_sheet_csv(const CwSheet *sheet, FILE *out)
{
  CwCsv csv = cw_csv_begin(names, out);
  const char *section = NULL; // a section goes on until the next one
  for (size_t i = 0; i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    section = row->section ? row->section : section;
    put_records(&csv, row, NULL, section);
    for (size_t k = 0; k < row->n_parts; k++) {
      put_records(&csv, row, &row->part[k], section);
    }
  }
  return cw_csv_end(&csv);
}
