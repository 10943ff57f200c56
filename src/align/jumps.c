// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/jumps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// A jump costs as much as this many seconds of perfect match gain, and so does the way into nothing.
static const double jump_s = 8.0;
static const double nothing_s = 6.0;
/// What it costs, in frames of perfect match, to stay in a frame of a or to leave one out.
static const double stay_frames = 0.3;
static const double skip_frames = 0.2;
/// Columns looked at to set the threshold.
enum { SAMPLED = 200 };

enum { STAY, STEP, SKIP, LEAP, FRESH }; // how a state was reached: FRESH is by a jump or out of nothing

enum { PAD = 4 };

/// A search while it runs.
typedef struct {
  const CwFrames *a, *b;
  float threshold, jump, nothing, stay, skip;
  size_t spacing;       ///< columns between checkpoints
  float *score;         ///< of each state, less the best of its column; PAD cells in front are minus infinity
  float *next;          ///< the same for the next column
  float *likeness;      ///< of one column
  float *checkpoint;    ///< `score` at every `spacing`th column
  uint8_t *how;         ///< between two checkpoints, how each state was reached
  float *nothing_score; ///< of the state "nothing" in each column, less the best of its column
  int32_t *best;        ///< best state of each column
  double total;         ///< the best score of the last column
} Search;

static int ascending(const void *left, const void *right)
{
  const float l = *(const float *)left;
  const float r = *(const float *)right;
  return (l > r) - (l < r);
}

static float median(float *value, size_t n)
{
  qsort(value, n, sizeof *value, ascending);
  return value[n / 2];
}

/// Half-way between the usual likeness of two frames and the usual likeness of a frame to its best fellow.
static CwStatus set_threshold(Search *search)
{
  const size_t n = search->b->n < SAMPLED ? search->b->n : SAMPLED;
  float middle[SAMPLED];
  float highest[SAMPLED];
  for (size_t s = 0; s < n; s++) {
    const size_t j = s * search->b->n / n;
    cw_frames_likeness(search->b, j, search->a, 0, search->a->n, search->likeness);
    middle[s] = median(search->likeness, search->a->n);
    highest[s] = search->likeness[search->a->n - 1];
  }
  search->threshold = 0.5F * (median(middle, n) + median(highest, n));
  return CW_OK;
}

static void set_prices(Search *search)
{
  const double perfect = 1.0 - (double)search->threshold;
  search->jump = (float)(jump_s * search->b->rate_hz * perfect);
  search->nothing = (float)(nothing_s * search->b->rate_hz * perfect);
  search->stay = (float)(stay_frames * perfect);
  search->skip = (float)(skip_frames * perfect);
}

static CwStatus prepare(Search *search)
{
  const size_t n_a = search->a->n;
  const size_t n_b = search->b->n;
  search->spacing = (size_t)ceil(sqrt((double)n_b));
  search->score = cw_new(n_a + PAD, sizeof *search->score);
  search->next = cw_new(n_a + PAD, sizeof *search->next);
  search->likeness = cw_new(n_a, sizeof *search->likeness);
  search->checkpoint = cw_new((n_b / search->spacing + 1) * n_a, sizeof *search->checkpoint);
  search->how = cw_new(search->spacing * n_a, sizeof *search->how);
  search->nothing_score = cw_new(n_b, sizeof *search->nothing_score);
  search->best = cw_new(n_b, sizeof *search->best);
  const bool ok = search->score && search->next && search->likeness && search->checkpoint && search->how &&
                  search->nothing_score && search->best;
  return ok ? CW_OK : CW_ERR_NO_MEM;
}

static void release(Search *search)
{
  free(search->score);
  free(search->next);
  free(search->likeness);
  free(search->checkpoint);
  free(search->how);
  free(search->nothing_score);
  free(search->best);
}

/// One column from `from` (which points behind its pad) to `to`; no branches, so that it is done many states at once.
static void advance(const float *from, const float *likeness, size_t n, float fresh, const Search *search, float *to)
{
  const float stay = search->stay;
  const float skip = search->skip;
  const float leap = 2 * skip;
  const float threshold = search->threshold;
  for (size_t i = 0; i < n; i++) {
    float score = from[i] - stay;
    const float step = from[(ptrdiff_t)i - 1];
    const float skipped = from[(ptrdiff_t)i - 2] - skip;
    const float leapt = from[(ptrdiff_t)i - 3] - leap;
    score = step >= score ? step : score;
    score = skipped > score ? skipped : score;
    score = leapt > score ? leapt : score;
    score = fresh > score ? fresh : score;
    to[i] = score + (likeness[i] - threshold);
  }
}

/// How each state of a column was reached; agrees with advance().
static void explain(const float *from, size_t n, float fresh, const Search *search, uint8_t *how)
{
  const float stay = search->stay;
  const float skip = search->skip;
  for (size_t i = 0; i < n; i++) {
    float score = from[i] - stay;
    uint8_t by = STAY;
    const float way[4] = {from[(ptrdiff_t)i - 1], from[(ptrdiff_t)i - 2] - skip, from[(ptrdiff_t)i - 3] - 2 * skip,
                          fresh};
    for (uint8_t w = 0; w < 4; w++) {
      if (way[w] > score || (w == 0 && way[w] >= score)) {
        score = way[w];
        by = (uint8_t)(w + STEP);
      }
    }
    how[i] = by;
  }
}

/// What a state costs that is entered by a jump or out of nothing, after column `j`.
static float fresh_score(const Search *search, size_t j)
{
  return fmaxf(-search->jump, search->nothing_score[j]);
}

/// Move to column `j` from the one before.
static void next_column(Search *search, size_t j)
{
  const size_t n_a = search->a->n;
  cw_frames_likeness(search->b, j, search->a, 0, n_a, search->likeness);
  float *to = search->next + PAD;
  if (j == 0) {
    for (size_t i = 0; i < n_a; i++) {
      to[i] = search->likeness[i] - search->threshold;
    }
  } else {
    advance(search->score + PAD, search->likeness, n_a, fresh_score(search, j - 1), search, to);
  }
  size_t best = 0;
  for (size_t i = 1; i < n_a; i++) {
    best = to[i] > to[best] ? i : best;
  }
  const float highest = to[best];
  for (size_t i = 0; i < n_a; i++) {
    to[i] -= highest;
  }
  const float nothing = j == 0 ? 0.0F : fmaxf(search->nothing_score[j - 1], -search->nothing);
  search->nothing_score[j] = nothing - highest;
  search->best[j] = (int32_t)best;
  search->total += (double)highest;
  float *swap = search->score;
  search->score = search->next;
  search->next = swap;
}

static CwStatus run_forward(Search *search, const CwReport *report)
{
  const size_t n_a = search->a->n;
  for (size_t k = 0; k < PAD; k++) {
    search->score[k] = -INFINITY;
    search->next[k] = -INFINITY;
  }
  for (size_t j = 0; j < search->b->n; j++) {
    next_column(search, j);
    if (j % search->spacing == 0) {
      memcpy(search->checkpoint + j / search->spacing * n_a, search->score + PAD, n_a * sizeof *search->score);
      if (cw_report_progress(report, "comparing", (double)j / (double)search->b->n)) {
        return CW_ERR_CANCELLED;
      }
    }
  }
  return CW_OK;
}

/// Fill `how` for the columns after checkpoint `c` up to the next.
static void redo(Search *search, size_t c)
{
  const size_t n_a = search->a->n;
  const size_t first = c * search->spacing;
  memcpy(search->score + PAD, search->checkpoint + c * n_a, n_a * sizeof *search->score);
  for (size_t j = first + 1; j < first + search->spacing + 1 && j < search->b->n; j++) {
    explain(search->score + PAD, n_a, fresh_score(search, j - 1), search, search->how + (j - first - 1) * n_a);
    next_column(search, j);
  }
}

/// The state before state `i` of column `j`.
static int32_t state_before(const Search *search, size_t first, size_t j, int32_t i)
{
  const float nothing = search->nothing_score[j - 1];
  if (i == CW_NOWHERE) {
    return nothing >= -search->nothing ? CW_NOWHERE : search->best[j - 1];
  }
  const uint8_t how = search->how[(j - first - 1) * search->a->n + (size_t)i];
  if (how == FRESH) {
    return nothing > -search->jump ? CW_NOWHERE : search->best[j - 1];
  }
  return i - (how - STAY);
}

static void walk_back(Search *search, int32_t *a)
{
  const size_t n_b = search->b->n;
  int32_t state = search->nothing_score[n_b - 1] > 0 ? CW_NOWHERE : search->best[n_b - 1];
  a[n_b - 1] = state;
  for (size_t c = (n_b - 1) / search->spacing + 1; c-- > 0;) {
    const size_t first = c * search->spacing;
    size_t j = first + search->spacing < n_b - 1 ? first + search->spacing : n_b - 1;
    redo(search, c);
    for (; j > first; j--) {
      state = state_before(search, first, j, state);
      a[j - 1] = state;
    }
  }
}

CwStatus cw_jumps_find(const CwFrames *a, const CwFrames *b, const CwReport *report, CwTrail *trail)
{
  Search search = {.a = a, .b = b};
  *trail = (CwTrail){.n = b->n};
  trail->a = cw_new(b->n, sizeof *trail->a);
  CwStatus status = trail->a ? prepare(&search) : CW_ERR_NO_MEM;
  if (!status) {
    status = set_threshold(&search);
  }
  if (!status) {
    set_prices(&search);
    status = run_forward(&search, report);
  }
  if (!status) {
    trail->threshold = (double)search.threshold;
    trail->gain = (search.total + (double)fmaxf(0.0F, search.nothing_score[b->n - 1])) /
                  ((1.0 - (double)search.threshold) * (double)b->n);
    walk_back(&search, trail->a);
  } else {
    cw_trail_free(trail);
  }
  release(&search);
  return status;
}

void cw_trail_free(CwTrail *trail)
{
  free(trail->a);
  memset(trail, 0, sizeof *trail);
}
