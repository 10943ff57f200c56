// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/drift.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// Counts a minute as far as they can be heard: before a hold and at the end the last count has no end in the music, so
/// the tempo is then that from the one to the last count.
static double heard_tempo(const CwCountLine *line, size_t i)
{
  if (i >= line->n_phrases) {
    return NAN;
  }
  const CwPhrase *p = &line->phrase[i];
  const bool runs_on = i + 1 < line->n_phrases && cw_count_line_start(line, i + 1) - p->end_s < 1e-3;
  if (runs_on || p->counts < 2) {
    return cw_count_line_tempo(line, i);
  }
  return 60.0 * (p->counts - 1) / (line->count_s[p->first_count + p->counts - 1] - cw_count_line_start(line, i));
}

/// Fill a row from phrase `i` of a and phrase `k` of b, which is SIZE_MAX when b lacks it.
static void fill_row(const CwCountLine *a, size_t i, const CwCountLine *b, size_t k, CwDriftRow *row)
{
  *row = (CwDriftRow){.number = (unsigned)i + 1, .counts = a->phrase[i].counts, .present = k < b->n_phrases};
  row->a_start_s = cw_count_line_start(a, i);
  row->a_end_s = a->phrase[i].end_s;
  row->a_counts_per_min = heard_tempo(a, i);
  row->b_start_s = cw_count_line_start(b, k);
  row->b_end_s = row->present ? b->phrase[k].end_s : (double)NAN;
  row->b_counts_per_min = heard_tempo(b, k);
  row->percent = 100.0 * (row->b_counts_per_min / row->a_counts_per_min - 1.0);
}

static void fill_ahead(CwDrift *drift)
{
  const CwDriftRow *first = NULL;
  for (size_t i = 0; i < drift->n; i++) {
    CwDriftRow *row = &drift->row[i];
    first = first || !row->present ? first : row;
    row->ahead_s =
        row->present ? (row->a_start_s - first->a_start_s) - (row->b_start_s - first->b_start_s) : (double)NAN;
  }
}

static CwStatus begin(const CwCountLine *a, CwDrift *drift)
{
  *drift = (CwDrift){.row = cw_new(a->n_phrases, sizeof *drift->row), .n = a->n_phrases};
  if (!drift->row) {
    drift->n = 0;
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_drift_by_map(const CwCountLine *a, const CwTimeMap *map, CwDrift *drift)
{
  CwCountLine b = {0};
  size_t *kept = cw_new(a->n_phrases, sizeof *kept);
  *drift = (CwDrift){0};
  CwStatus status = kept ? cw_carry(a, map, &b, kept) : CW_ERR_NO_MEM;
  if (!status) {
    status = begin(a, drift);
  }
  for (size_t i = 0; kept && i < drift->n; i++) {
    fill_row(a, i, &b, kept[i], &drift->row[i]);
  }
  fill_ahead(drift);
  cw_count_line_free(&b);
  free(kept);
  return status;
}

CwStatus cw_drift_by_lines(const CwCountLine *a, const CwCountLine *b, CwDrift *drift)
{
  const CwStatus status = begin(a, drift);
  for (size_t i = 0; i < drift->n; i++) {
    fill_row(a, i, b, i, &drift->row[i]);
  }
  fill_ahead(drift);
  return status;
}

void cw_drift_free(CwDrift *drift)
{
  if (!drift) {
    return;
  }
  free(drift->row);
  memset(drift, 0, sizeof *drift);
}
