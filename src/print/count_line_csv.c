// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/print.h"
#include "print/csv.h"
#include "print/digits.h"

CwStatus cw_count_line_csv(const CwCountLine *line, const size_t *number, FILE *out)
{
  static const char *const names[] = {"phrase",         "count",      "time_s", "phrase_end_s",
                                      "counts_per_min", "confidence", NULL};
  CwCsv csv = cw_csv_begin(names, out);
  for (size_t i = 0; i < line->n_phrases; i++) {
    const CwPhrase *phrase = &line->phrase[i];
    for (unsigned k = 0; k < phrase->counts; k++) {
      cw_csv_whole(&csv, number ? number[i] : i + 1);
      cw_csv_whole(&csv, k + 1);
      cw_csv_number(&csv, line->count_s[phrase->first_count + k], CW_TIME_DIGITS);
      cw_csv_number(&csv, phrase->end_s, CW_TIME_DIGITS);
      cw_csv_number(&csv, cw_count_line_tempo(line, i), CW_TEMPO_DIGITS);
      cw_csv_number(&csv, cw_known(phrase->confidence, 0), CW_CONFIDENCE_DIGITS);
      cw_csv_end_record(&csv);
    }
  }
  return cw_csv_end(&csv);
}
