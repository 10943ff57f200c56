// SPDX-License-Identifier: GPL-3.0-or-later
/// CSV after RFC 4180: UTF-8 without a byte order mark, comma, CRLF, quotes where needed.
///
/// A spreadsheet takes a text field that begins with = + - or @ for a formula, which a stranger's notes must never be.
/// Such a field (spaces and apostrophes before the sign count too) gets one apostrophe more in front. To read it back,
/// take one apostrophe off a text field that begins with one and matches ^[' ]*[=+@-]; nothing else needs undoing.
#ifndef CW_PRINT_CSV_H
#define CW_PRINT_CSV_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "countwright/status.h"

/// A CSV file being written. The first failure is kept; what follows does nothing.
typedef struct {
  FILE *out;
  bool inside; ///< a field of the present record is written
  CwStatus status;
} CwCsv;

/// Begin with a record of column names, `names` a list that ends with NULL.
CwCsv cw_csv_begin(const char *const *names, FILE *out);

/// A text field, made one clean line and guarded; empty for NULL.
void cw_csv_text(CwCsv *csv, const char *text);

/// A number with `digits` after the point; empty when not finite.
void cw_csv_number(CwCsv *csv, double value, int digits);

/// A whole number.
void cw_csv_whole(CwCsv *csv, size_t value);

/// A whole number of which 0 means unknown or none; then empty.
void cw_csv_whole_or_empty(CwCsv *csv, size_t value);

/// "yes" or "no".
void cw_csv_flag(CwCsv *csv, bool value);

/// End a record.
void cw_csv_end_record(CwCsv *csv);

/// Flush. @return CW_OK, CW_ERR_NO_MEM or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_csv_end(CwCsv *csv);

#endif
