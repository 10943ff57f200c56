// SPDX-License-Identifier: GPL-3.0-or-later
/// @file print.h
/// Sheets, count lines and drift as text, PDF, SVG, PNG, JSON, CSV and MIDI. Numbers never follow the locale. Every writer
/// writes to an open stream and leaves it open; CW_ERR_WRITE means the stream reported an error.
///
/// The JSON forms follow the schemas in src/print/schema/, which state every field.
#ifndef COUNTWRIGHT_PRINT_H
#define COUNTWRIGHT_PRINT_H

#include <stdbool.h>
#include <stdio.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/day.h"
#include "countwright/drift.h"
#include "countwright/language.h"
#include "countwright/sheet.h"
#include "countwright/status.h"

CW_BEGIN

/// Paper of a printed sheet.
typedef enum { CW_PAPER_A4, CW_PAPER_LETTER, CW_PAPER_A5 } CwPaper;

/// What a sheet is printed on. Zeroed it is A4 upright.
typedef struct {
  CwPaper paper;
  bool landscape;
  bool big; ///< all of it half as large again: steps in 17 points, which is large print
} CwPage;

/// The sheet as text: no line is wider than the terminal, and no control character of the notes reaches it.
/// @param columns Width of the terminal in columns; less than 40 counts as 40. Widths follow Unicode (wide East Asian
/// characters are two columns).
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_text(const CwSheet *sheet, unsigned columns, FILE *out);

/// Who is on stage when, a few lines for each role. @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_cast_text(const CwCast *cast, CwLanguage labels, unsigned columns, FILE *out);

/// The same as JSON (schema/cast.json).
CW_API CW_NODISCARD CwStatus cw_cast_json(const CwCast *cast, FILE *out);

/// The sheet as PDF, with title, language, table of contents, page numbers and embedded fonts. A sheet without steps has room to
/// write them in. The same sheet gives the same bytes (no date is in it) where the same fonts are installed.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_pdf(const CwSheet *sheet, const CwPage *page, FILE *out);

/// Form of a drawing.
typedef enum { CW_CHART_SVG, CW_CHART_PDF, CW_CHART_PNG } CwChartFormat;

/// Gives the stream that a page is written to.
/// @param page From 1 on; asked for in order, once each. @param pages How many there will be.
/// @param[out] out Stays open and belongs to whoever gave it; flushed when its page is done.
/// @return CW_OK, or why not, with which the printing ends.
typedef CwStatus (*CwPageOpener)(void *context, unsigned page, unsigned pages, FILE **out);

/// The sheet as pictures, a file for each page, as the PDF has them. A PNG has 3 pixels to a point (216 to an inch).
/// @param format SVG or PNG.
/// @return CW_OK, CW_ERR_BAD_ARG (another format), CW_ERR_WRITE, CW_ERR_NO_MEM or what `open` returned.
CW_API CW_NODISCARD CwStatus cw_sheet_pictures(const CwSheet *sheet, const CwPage *page, CwChartFormat format,
                                               CwPageOpener open, void *context);

/// The sheet as JSON (schema/sheet.json). @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_json(const CwSheet *sheet, FILE *out);

/// The sheet as CSV (RFC 4180), a record per step, and one for a phrase without steps, with a head record. A section
/// stands in the records of all its phrases. Text that a spreadsheet would run as a formula gets an apostrophe in front:
/// to read such text back, take one apostrophe off a field that begins with one and matches ^[' ]*[=+@-].
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_csv(const CwSheet *sheet, FILE *out);

/// The sheet as a Standard MIDI File 1.0 (format 1, 960 ticks to the quarter), so that any music program shows the eights:
/// a tempo map by which each count falls at its second in the recording, to a few microseconds; time signatures where the
/// metre is known, bars beginning anew at the first one, after holds and where the metre changes; a marker at each one
/// (its number and, where one begins, its section) and at each hold; the counts as strokes on General MIDI's drum channel,
/// with lyrics; the steps as texts. Phrases of the line that the sheet lacks have tempo alone. Where no unit is given a beat is a quarter.
/// @param line The times; at least one phrase. @param number Of each phrase of the line, its number on the
/// sheet; NULL: from 1 on.
/// @return CW_OK, CW_ERR_BAD_ARG (no phrases), CW_ERR_TOO_LONG, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_sheet_midi(const CwSheet *sheet, const CwCountLine *line, const size_t *number,
                                           FILE *out);

/// A count line as JSON (schema/count-line.json).
/// @param number The number of each phrase; NULL: from 1 on.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_count_line_json(const CwCountLine *line, const size_t *number, const char *recording,
                                                FILE *out);

/// A count line as CSV, a record per count, with a head record. `number` as above. @return CW_OK, CW_ERR_WRITE or
/// CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_count_line_csv(const CwCountLine *line, const size_t *number, FILE *out);

/// Drift as text: a table from 80 columns on, below that a line of words for each phrase. Where more than two recordings
/// are compared, a table of what is usual over all of them follows. @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_text(const CwDriftTable *table, unsigned columns, FILE *out);

/// Drift as JSON (schema/drift.json). @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_json(const CwDriftTable *table, FILE *out);

/// Drift as CSV, a record for each phrase and other recording, with a head record. @return CW_OK, CW_ERR_WRITE or
/// CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_csv(const CwDriftTable *table, FILE *out);

/// The drift chart: tempo of each phrase in all recordings over each other, and seconds ahead; readable in black and
/// white. With many recordings the lines are the first and the last of them and the median, in the range of all. 720 by
/// 540 points; a PNG has 1440 by 1080 pixels.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_drift_chart(const CwDriftTable *table, CwChartFormat format, FILE *out);

/// The runs of a dance in a long recording, and what is needed to tell them.
typedef struct {
  const char *dance;       ///< name of the dance's recording
  const char *day;         ///< name of the long one
  double day_s;            ///< its length
  const CwCountLine *line; ///< of the dance's recording
  const CwDayRuns *runs;
} CwDayTable;

/// A line for each run: when, which phrases of the dance, how fast against its recording. @return CW_OK, CW_ERR_WRITE or
/// CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_day_text(const CwDayTable *table, unsigned columns, FILE *out);

/// The same as JSON (schema/day.json).
CW_API CW_NODISCARD CwStatus cw_day_json(const CwDayTable *table, FILE *out);

CW_END

#endif
