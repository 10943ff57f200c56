// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/drift_lines.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/clean.h"
#include "print/drift_blocks.h"

/// Told apart by weight, dashes and marks, not by colour.
static const CwPen first_pen = {2.4, 0.55, CW_DASH_NONE, CW_MARK_SQUARE};
static const CwPen other_pen[CW_CHART_MOST_LINES] = {
    {1.5, 0, CW_DASH_LONG, CW_MARK_RING},    {1.3, 0, CW_DASH_NONE, CW_MARK_TRIANGLE},
    {1.3, 0, CW_DASH_DOT, CW_MARK_DIAMOND},  {1.3, 0, CW_DASH_MIXED, CW_MARK_CROSS},
    {1.3, 0.3, CW_DASH_SHORT, CW_MARK_DISC},
};
static const CwPen median_pen = {1.3, 0, CW_DASH_NONE, CW_MARK_DIAMOND};

/// "B: name".
static char *key_text(const char *letter, const char *name)
{
  char *clean = cw_clean_line(name);
  CwBuffer text = {0};
  if (clean && letter[0]) {
    cw_buffer_join(&text, "", "%s: %s", letter, clean);
  } else {
    cw_buffer_put(&text, clean ? clean : "");
  }
  const bool failed = text.failed || !clean;
  free(clean);
  char *copy = failed ? NULL : cw_copy_text(cw_buffer_text(&text), strlen(cw_buffer_text(&text)));
  cw_buffer_free(&text);
  return copy;
}

/// Add an empty line. @return NULL when memory runs out.
static CwChartLine *add_line(CwChartLines *lines, const char *letter, const char *name, CwPen pen, bool ahead)
{
  CwChartLine *line = &lines->line[lines->n++];
  *line = (CwChartLine){.pen = pen, .name = key_text(letter, name)};
  snprintf(line->letter, sizeof line->letter, "%s", letter);
  line->tempo = cw_new(lines->rows, sizeof *line->tempo);
  line->ahead = ahead ? cw_new(lines->rows, sizeof *line->ahead) : NULL;
  return line->name && line->tempo && (line->ahead || !ahead) ? line : NULL;
}

static CwStatus add_first(const CwDriftTable *table, CwChartLines *lines)
{
  CwChartLine *line = add_line(lines, "A", table->name, first_pen, false);
  for (size_t i = 0; line && i < lines->rows; i++) {
    line->tempo[i] = table->other[0].drift.row[i].a_counts_per_min;
  }
  return line ? CW_OK : CW_ERR_NO_MEM;
}

static CwStatus add_other(const CwDriftTable *table, size_t o, CwPen pen, CwChartLines *lines)
{
  char letter[CW_WORD_ROOM];
  CwChartLine *line = add_line(lines, cw_drift_letter(o, letter), table->other[o].name, pen, true);
  for (size_t i = 0; line && i < lines->rows; i++) {
    line->tempo[i] = table->other[o].drift.row[i].b_counts_per_min;
    line->ahead[i] = table->other[o].drift.row[i].ahead_s;
  }
  return line ? CW_OK : CW_ERR_NO_MEM;
}

/// The median, and the range of all as the band.
static CwStatus add_season(const CwDriftTable *table, CwChartLines *lines)
{
  CwChartLine *line = add_line(lines, "", CW_SAY_CHART_MEDIAN, median_pen, false);
  CwSeason *season = cw_new(lines->rows, sizeof *season);
  const bool good = line && season && cw_drift_season(table, season) == CW_OK;
  for (size_t i = 0; good && i < lines->rows; i++) {
    line->tempo[i] = season[i].median;
    lines->tempo_low[i] = season[i].slowest;
    lines->tempo_high[i] = season[i].fastest;
    lines->ahead_low[i] = 0; // the first recording is not ahead of itself
    lines->ahead_high[i] = 0;
    for (size_t o = 0; o < table->n; o++) { // fmin() and fmax() pass over NaN
      lines->ahead_low[i] = fmin(lines->ahead_low[i], table->other[o].drift.row[i].ahead_s);
      lines->ahead_high[i] = fmax(lines->ahead_high[i], table->other[o].drift.row[i].ahead_s);
    }
  }
  free(season);
  return good ? CW_OK : CW_ERR_NO_MEM;
}

/// The band within which tempo is heard to be the same as the first recording's.
static void fill_same(const CwDriftTable *table, CwChartLines *lines)
{
  for (size_t i = 0; i < lines->rows; i++) {
    const double tempo = table->other[0].drift.row[i].a_counts_per_min;
    lines->tempo_low[i] = tempo * (1 - CW_JUST_NOTICEABLE_PERCENT / 100);
    lines->tempo_high[i] = tempo * (1 + CW_JUST_NOTICEABLE_PERCENT / 100);
    lines->ahead_low[i] = NAN;
    lines->ahead_high[i] = NAN;
  }
}

CwStatus cw_chart_lines_make(const CwDriftTable *table, CwChartLines *lines)
{
  const bool many = table->n > CW_CHART_MOST_LINES;
  *lines = (CwChartLines){.rows = table->other[0].drift.n};
  lines->line = cw_new(CW_CHART_MOST_LINES + 1, sizeof *lines->line);
  lines->tempo_low = cw_new(4 * lines->rows + 1, sizeof *lines->tempo_low);
  if (!lines->line || !lines->tempo_low) {
    return CW_ERR_NO_MEM;
  }
  lines->tempo_high = lines->tempo_low + lines->rows;
  lines->ahead_low = lines->tempo_high + lines->rows;
  lines->ahead_high = lines->ahead_low + lines->rows;
  fill_same(table, lines);
  CwStatus status = add_first(table, lines);
  for (size_t o = many ? table->n - 1 : 0; o < table->n && !status; o++) {
    status = add_other(table, o, other_pen[many ? 0 : o], lines);
  }
  return many && !status ? add_season(table, lines) : status;
}

static void include(const double *value, size_t n, double *low, double *high)
{
  for (size_t i = 0; value && i < n; i++) {
    if (isfinite(value[i])) {
      *low = fmin(*low, value[i]);
      *high = fmax(*high, value[i]);
    }
  }
}

void cw_chart_lines_range(const CwChartLines *lines, bool tempo, double *low, double *high)
{
  include(tempo ? lines->tempo_low : lines->ahead_low, lines->rows, low, high);
  include(tempo ? lines->tempo_high : lines->ahead_high, lines->rows, low, high);
  for (size_t k = 0; k < lines->n; k++) {
    include(tempo ? lines->line[k].tempo : lines->line[k].ahead, lines->rows, low, high);
  }
}

double cw_chart_line_last(const CwChartLines *lines, size_t k, bool tempo)
{
  const double *value = tempo ? lines->line[k].tempo : lines->line[k].ahead;
  return value && lines->rows ? value[lines->rows - 1] : (double)NAN;
}

void cw_chart_lines_free(CwChartLines *lines)
{
  for (size_t k = 0; k < lines->n; k++) {
    free(lines->line[k].name);
    free(lines->line[k].tempo);
    free(lines->line[k].ahead);
  }
  free(lines->line);
  free(lines->tempo_low);
  *lines = (CwChartLines){0};
}
