// SPDX-License-Identifier: GPL-3.0-or-later
/// The lines of a chart of drift as numbers.
#ifndef CW_PRINT_DRIFT_LINES_H
#define CW_PRINT_DRIFT_LINES_H

#include "countwright/drift.h"
#include "print/panel.h"
#include "print/words.h"

/// One line.
typedef struct {
  char *name;                ///< with its letter, for the key
  char letter[CW_WORD_ROOM]; ///< for the line's end; may be empty
  CwPen pen;
  double *tempo;
  double *ahead; ///< NULL for the first recording and for the median
} CwChartLine;

/// All lines, the first recording's first, each of `rows` values; and the band behind them.
typedef struct {
  CwChartLine *line;
  size_t n;
  size_t rows;
  double *tempo_low, *tempo_high;
  double *ahead_low, *ahead_high; ///< no numbers where nothing is to be filled
} CwChartLines;

/// Lines of a table: up to CW_CHART_MOST_LINES others each have one; of more only the last, with the median and the
/// range of all. @param[out] lines Release with cw_chart_lines_free(), also on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_chart_lines_make(const CwDriftTable *table, CwChartLines *lines);

/// Widen a range to hold all finite values of a panel.
void cw_chart_lines_range(const CwChartLines *lines, bool tempo, double *low, double *high);

/// The value that a line ends with; NaN when its last is none.
double cw_chart_line_last(const CwChartLines *lines, size_t k, bool tempo);

/// Release.
void cw_chart_lines_free(CwChartLines *lines);

#endif
