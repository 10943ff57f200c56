// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/csv.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "print/clean.h"

static void begin_field(CwCsv *csv)
{
  if (csv->inside) {
    fputc(',', csv->out);
  }
  csv->inside = true;
}

/// Whether a spreadsheet might take the field for a formula.
static bool is_formula(const char *text)
{
  text += strspn(text, "' ");
  return *text && strchr("=+-@", *text) != NULL;
}

static void put_quoted(CwCsv *csv, const char *text)
{
  const bool guarded = is_formula(text);
  const bool quoted = strpbrk(text, ",\"") != NULL || text[0] == ' ';
  fputs(quoted ? "\"" : "", csv->out);
  fputs(guarded ? "'" : "", csv->out);
  for (; *text; text++) {
    fputs(*text == '"' ? "\"" : "", csv->out);
    fputc(*text, csv->out);
  }
  fputs(quoted ? "\"" : "", csv->out);
}

void cw_csv_text(CwCsv *csv, const char *text)
{
  begin_field(csv);
  char *clean = csv->status == CW_OK ? cw_clean_line(text) : NULL;
  if (clean) {
    put_quoted(csv, clean);
  } else {
    csv->status = CW_ERR_NO_MEM;
  }
  free(clean);
}

void cw_csv_number(CwCsv *csv, double value, int digits)
{
  begin_field(csv);
  if (fabs(value) < 1e9) {
    char text[48];
    fputs(cw_format_fixed(text, sizeof text, value, digits), csv->out);
  }
}

void cw_csv_whole(CwCsv *csv, size_t value)
{
  begin_field(csv);
  fprintf(csv->out, "%zu", value);
}

void cw_csv_whole_or_empty(CwCsv *csv, size_t value)
{
  if (value) {
    cw_csv_whole(csv, value);
  } else {
    begin_field(csv);
  }
}

void cw_csv_flag(CwCsv *csv, bool value)
{
  begin_field(csv);
  fputs(value ? "yes" : "no", csv->out);
}

void cw_csv_end_record(CwCsv *csv)
{
  fputs("\r\n", csv->out);
  csv->inside = false;
}

CwCsv cw_csv_begin(const char *const *names, FILE *out)
{
  CwCsv csv = {out, false, CW_OK};
  for (; *names; names++) {
    begin_field(&csv);
    fputs(*names, out);
  }
  cw_csv_end_record(&csv);
  return csv;
}

CwStatus cw_csv_end(CwCsv *csv)
{
  if (csv->status == CW_OK && (fflush(csv->out) != 0 || ferror(csv->out))) {
    csv->status = CW_ERR_WRITE;
  }
  return csv->status;
}
