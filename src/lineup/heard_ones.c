// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/heard_ones.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "lineup/likeness.h"
#include "phrase/boundaries.h"
#include "phrase/repeats.h"

#define ONE_WEIGHT 0.45     // for each standard deviation of novelty, as in phrase/group.c
#define EDGE_WEIGHT 0.7     // of an edge of a repetition against novelty, as in phrase/phrases.c
#define LIKENESS_WEIGHT 1.0 // of the likeness of one count

static CwCount *make_counts(const CwFall *fall)
{
  const size_t n = fall->n_found;
  CwCount *count = cw_new(n + 1, sizeof *count);
  for (size_t i = 0; count && i < n; i++) {
    const double length_s = i + 1 < n ? fall->time_s[i + 1] - fall->time_s[i]
                            : i > 0   ? count[i - 1].end_s - count[i - 1].time_s
                                      : 0.5;
    count[i] = (CwCount){.time_s = fall->time_s[i], .end_s = fall->time_s[i] + length_s, .run_start = i == 0};
  }
  return count;
}

CwStatus cw_heard_ones(const CwFeatures *features, const CwFall *fall, unsigned usual, double **worth)
{
  const size_t n = fall->n_found;
  CwCount *count = make_counts(fall);
  double *edge = cw_new(n + 1, sizeof *edge);
  *worth = cw_new(n + 1, sizeof **worth);
  CwStatus status = count && edge && *worth ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = cw_boundaries_measure(features, count, n, *worth);
  }
  if (status == CW_OK) {
    status = cw_repeats_measure(features, count, n, usual, edge);
  }
  for (size_t i = 0; i < n && status == CW_OK; i++) {
    (*worth)[i] = ONE_WEIGHT * fmin(fmax((*worth)[i] + EDGE_WEIGHT * edge[i], -2.0), 4.0);
  }
  free(count);
  free(edge);
  if (status != CW_OK) {
    free(*worth);
    *worth = NULL;
  }
  return status;
}

/// What repeats are worth: of each count of a phrase that the notes repeat, how alike its music is.
static CwStatus add_repeats(const CwFeatures *features, const CwNotebook *notebook, const double *time_s, size_t n,
                            double *sum)
{
  CwPlan plan = {0};
  CwMessages said = {0};
  CwLikeness likeness;
  CwStatus status = cw_plan_make(notebook, 0, &plan, &said);
  cw_messages_free(&said);
  if (status == CW_OK && plan.n > 0) {
    status = cw_likeness_init(&likeness, features, notebook, &plan);
    const size_t known = n < plan.n ? n : plan.n;
    if (status == CW_OK && cw_likeness_any(&likeness)) {
      cw_likeness_place(&likeness, time_s, known);
      for (size_t i = 0; i < known; i++) {
        *sum += LIKENESS_WEIGHT * cw_likeness_at(&likeness, i, time_s[i], likeness.length_s[i]);
      }
    }
    if (status == CW_OK) {
      cw_likeness_free(&likeness);
    }
  }
  cw_plan_free(&plan);
  return status;
}

CwStatus cw_heard_sum(const CwFeatures *features, const CwNotebook *notebook, const double *time_s, const double *worth,
                      size_t n, double *sum)
{
  bool repeats = false;
  *sum = 0;
  size_t at = 0;
  for (size_t p = 0; p < notebook->n_phrases && at < n; p++) {
    *sum += p > 0 ? worth[at] : 0.0; // the first one has nothing before it to differ from
    at += notebook->phrase[p].counts;
    repeats = repeats || notebook->phrase[p].like != CW_NONE;
  }
  return repeats ? add_repeats(features, notebook, time_s, n, sum) : CW_OK;
}
