// SPDX-License-Identifier: GPL-3.0-or-later
// Parts of a drift, and how tempo varies over many recordings.
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/drift.h"

void cw_drift_keep(CwDrift *drift, size_t first, size_t last)
{
  drift->n = last - first + 1;
  memmove(drift->row, drift->row + first, drift->n * sizeof *drift->row);
  double from_s = NAN;
  for (size_t i = 0; i < drift->n; i++) {
    CwDriftRow *row = &drift->row[i];
    from_s = isnan(from_s) ? row->ahead_s : from_s;
    row->ahead_s -= from_s;
  }
}

CwDriftRow cw_drift_whole(const CwDrift *drift)
{
  CwDriftRow whole = {.a_start_s = NAN, .a_end_s = NAN, .b_start_s = NAN, .b_end_s = NAN, .ahead_s = NAN};
  double a_min = 0;
  double b_min = 0;
  for (size_t i = 0; i < drift->n; i++) {
    const CwDriftRow *row = &drift->row[i];
    if (!row->present) {
      continue;
    }
    if (!whole.present) {
      whole.number = row->number;
      whole.a_start_s = row->a_start_s;
      whole.b_start_s = row->b_start_s;
      whole.present = true;
    }
    whole.counts += row->counts;
    a_min += row->counts / row->a_counts_per_min;
    b_min += row->counts / row->b_counts_per_min;
    whole.a_end_s = row->a_end_s;
    whole.b_end_s = row->b_end_s;
  }
  whole.a_counts_per_min = whole.present ? whole.counts / a_min : (double)NAN;
  whole.b_counts_per_min = whole.present ? whole.counts / b_min : (double)NAN;
  whole.percent = 100.0 * (whole.b_counts_per_min / whole.a_counts_per_min - 1.0);
  whole.ahead_s = (whole.a_end_s - whole.a_start_s) - (whole.b_end_s - whole.b_start_s);
  return whole;
}

static int ascending(const void *left, const void *right)
{
  const double l = *(const double *)left;
  const double r = *(const double *)right;
  return (l > r) - (l < r);
}

/// @param tempo `n` of them, put in order.
static CwSeason season_of(double *tempo, size_t n)
{
  if (n == 0) {
    return (CwSeason){0, NAN, NAN, NAN};
  }
  qsort(tempo, n, sizeof *tempo, ascending);
  return (CwSeason){n, tempo[0], 0.5 * (tempo[(n - 1) / 2] + tempo[n / 2]), tempo[n - 1]};
}

CwStatus cw_drift_season(const CwDriftTable *table, CwSeason *season)
{
  double *tempo = cw_new(table->n + 1, sizeof *tempo);
  if (!tempo) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < table->other[0].drift.n; i++) {
    size_t n = 0;
    tempo[n++] = table->other[0].drift.row[i].a_counts_per_min;
    for (size_t o = 0; o < table->n; o++) {
      const CwDriftRow *row = &table->other[o].drift.row[i];
      if (row->present && isfinite(row->b_counts_per_min)) {
        tempo[n++] = row->b_counts_per_min;
      }
    }
    season[i] = season_of(tempo, n);
  }
  free(tempo);
  return CW_OK;
}

/// Tempo of the first recording over all rows.
static double first_tempo(const CwDrift *drift)
{
  double counts = 0;
  double minutes = 0;
  for (size_t i = 0; i < drift->n; i++) {
    counts += drift->row[i].counts;
    minutes += drift->row[i].counts / drift->row[i].a_counts_per_min;
  }
  return counts / minutes;
}

CwStatus cw_drift_season_whole(const CwDriftTable *table, CwSeason *season)
{
  double *tempo = cw_new(table->n + 1, sizeof *tempo);
  *season = (CwSeason){0, NAN, NAN, NAN};
  if (!tempo) {
    return CW_ERR_NO_MEM;
  }
  size_t n = 0;
  if (table->other[0].drift.n > 0) {
    tempo[n++] = first_tempo(&table->other[0].drift);
  }
  for (size_t o = 0; o < table->n; o++) {
    const CwDriftRow whole = cw_drift_whole(&table->other[o].drift);
    if (whole.present) { // by its ratio: what one recording leaves out must not make it quicker or slower
      tempo[n++] = first_tempo(&table->other[o].drift) * (1 + whole.percent / 100.0);
    }
  }
  *season = season_of(tempo, n);
  free(tempo);
  return CW_OK;
}
