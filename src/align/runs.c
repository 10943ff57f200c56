// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/runs.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const double shortest_s = 4.0;
static const double bridged_s = 4.0;
static const double drawn_out_s = 10.0;

/// Frames of a that the trail may leap from one frame of b to the next within a run.
enum { LEAP = 3 };

static bool goes_on(const CwTrail *trail, size_t j)
{
  const int32_t step = trail->a[j] - trail->a[j - 1];
  return trail->a[j - 1] != CW_NOWHERE && trail->a[j] != CW_NOWHERE && step >= 0 && step <= LEAP;
}

static CwStatus collect(const CwTrail *trail, size_t shortest, CwRuns *runs)
{
  size_t room = 0;
  for (size_t j = 0; j < trail->n;) {
    if (trail->a[j] == CW_NOWHERE) {
      j++;
      continue;
    }
    const size_t first = j++;
    while (j < trail->n && goes_on(trail, j)) {
      j++;
    }
    if (j - first < shortest) {
      continue;
    }
    if (!cw_grow(&runs->run, &room, runs->n, sizeof *runs->run)) {
      return CW_ERR_NO_MEM;
    }
    runs->run[runs->n++] = (CwRun){first, j};
  }
  return CW_OK;
}

/// Whether what lies between two runs is little enough, or like enough in length, to be the same music played on.
static bool belong_together(const CwTrail *trail, CwRun left, CwRun right, double bridged)
{
  const double gap_b = (double)right.first - (double)left.end;
  const double gap_a = (double)(trail->a[right.first] - trail->a[left.end - 1]);
  if (gap_a < -0.25 * bridged) {
    return false;
  }
  const bool little = gap_a < bridged && gap_b < bridged;
  const bool alike = gap_a > 0.5 * gap_b && gap_a < 2.0 * gap_b;
  return little || alike;
}

/// Straight from frame `from` of b to frame `to`, which both have a place.
static void draw_line(CwTrail *trail, size_t from, size_t to)
{
  const double start = trail->a[from];
  const double slope = (trail->a[to] - start) / (double)(to - from);
  for (size_t j = from + 1; j < to; j++) {
    trail->a[j] = (int32_t)(start + slope * (double)(j - from) + 0.5);
  }
}

static void join(CwTrail *trail, double bridged, CwRuns *runs)
{
  size_t kept = 0;
  for (size_t r = 1; r < runs->n; r++) {
    CwRun *left = &runs->run[kept];
    const CwRun right = runs->run[r];
    if (belong_together(trail, *left, right, bridged)) {
      draw_line(trail, left->end - 1, right.first);
      left->end = right.end;
    } else {
      runs->run[++kept] = right;
    }
  }
  runs->n = runs->n ? kept + 1 : 0;
}

/// Make the trail never go back within a run.
static void straighten(CwTrail *trail, CwRun run)
{
  for (size_t j = run.end - 1; j-- > run.first;) {
    if (trail->a[j] > trail->a[j + 1]) {
      trail->a[j] = trail->a[j + 1];
    }
  }
}

/// Go on at even pace before a run, up to `limit` frames or where b's run before ends or a begins.
static void draw_out_start(CwTrail *trail, CwRun *run, size_t earliest, size_t limit)
{
  for (size_t k = 0; k < limit && run->first > earliest && trail->a[run->first] > 0; k++) {
    trail->a[run->first - 1] = trail->a[run->first] - 1;
    run->first--;
  }
}

static void draw_out_end(CwTrail *trail, CwRun *run, size_t latest, size_t n_a, size_t limit)
{
  for (size_t k = 0; k < limit && run->end < latest && (size_t)trail->a[run->end - 1] + 1 < n_a; k++) {
    trail->a[run->end] = trail->a[run->end - 1] + 1;
    run->end++;
  }
}

CwStatus cw_runs_find(CwTrail *trail, size_t n_a, double rate_hz, CwRuns *runs)
{
  *runs = (CwRuns){0};
  if (collect(trail, (size_t)(shortest_s * rate_hz), runs)) {
    free(runs->run);
    *runs = (CwRuns){0};
    return CW_ERR_NO_MEM;
  }
  join(trail, bridged_s * rate_hz, runs);
  for (size_t r = 0; r < runs->n; r++) {
    straighten(trail, runs->run[r]);
  }
  if (runs->n) {
    const size_t limit = (size_t)(drawn_out_s * rate_hz);
    draw_out_start(trail, &runs->run[0], 0, limit);
    draw_out_end(trail, &runs->run[runs->n - 1], trail->n, n_a, limit);
  }
  return CW_OK;
}
