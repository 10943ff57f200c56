// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/jumps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "align/columns.h"
#include "base/memory.h"

/// A jump costs as much as this many seconds of perfect match gain, and so does the way into nothing.
static const double jump_s = 7.0;
static const double nothing_s = 7.0;
/// Likewise what it costs to wait where the music is, for as long as it takes: less, as it goes on from a known place.
static const double pause_s = 4.5;
/// What it costs, in frames of perfect match, to stay in a frame of a or to leave one out.
static const double stay_frames = 0.3;
static const double skip_frames = 0.2;
/// So much, likewise, costs it to begin well after a's beginning or to end well before its end: of readings that are
/// alike in all else, as in music of many verses, that with the whole of it is meant.
static const double margin_cost_s = 2.0;
static const double margin_s = 10.0;
/// However alike everything is, a better match must still gain something.
static const float highest_threshold = 0.9F;
/// Columns looked at to set the threshold.
enum { SAMPLED = 200 };

/// A search while it runs.
typedef struct {
  CwColumns columns;
  size_t spacing;    ///< columns between checkpoints
  float *checkpoint; ///< the scores of every `spacing`th column
  uint8_t *how;      ///< between two checkpoints: how each state is reached
  int32_t end;       ///< where the path ends, or CW_NOWHERE
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
static float find_threshold(CwColumns *columns)
{
  const CwFrames *a = columns->a;
  const CwFrames *b = columns->b;
  const size_t n = b->n < SAMPLED ? b->n : SAMPLED;
  float middle[SAMPLED];
  float highest[SAMPLED];
  for (size_t s = 0; s < n; s++) {
    cw_frames_likeness(b, s * b->n / n, a, 0, a->n, columns->likeness);
    middle[s] = median(columns->likeness, a->n);
    highest[s] = columns->likeness[a->n - 1];
  }
  return fminf(0.5F * (median(middle, n) + median(highest, n)), highest_threshold);
}

static CwPrices prices(float threshold, double rate_hz)
{
  const double perfect = 1.0 - (double)threshold;
  const double second = rate_hz * perfect;
  return (CwPrices){.threshold = threshold,
                    .jump = (float)(jump_s * second),
                    .nothing = (float)(nothing_s * second),
                    .pause = (float)(pause_s * second),
                    .stay = (float)(stay_frames * perfect),
                    .skip = (float)(skip_frames * perfect),
                    .margin = (float)(margin_cost_s * second),
                    .margin_frames = (size_t)(margin_s * rate_hz)};
}

static CwStatus prepare(const CwFrames *a, const CwFrames *b, Search *search)
{
  search->spacing = (size_t)ceil(sqrt((double)b->n));
  search->checkpoint = cw_new((b->n / search->spacing + 1) * CW_LAYERS * a->n, sizeof *search->checkpoint);
  search->how = cw_new((search->spacing + 1) * a->n, sizeof *search->how);
  const CwStatus status = cw_columns_init(a, b, &search->columns);
  return search->checkpoint && search->how ? status : CW_ERR_NO_MEM;
}

static void release(Search *search)
{
  cw_columns_free(&search->columns);
  free(search->checkpoint);
  free(search->how);
}

static float *checkpoint_at(const Search *search, size_t c)
{
  return search->checkpoint + c * CW_LAYERS * search->columns.a->n;
}

static CwStatus run_forward(Search *search, const CwReport *report)
{
  const size_t n_b = search->columns.b->n;
  for (size_t j = 0; j < n_b; j++) {
    cw_columns_next(&search->columns, j);
    if (j % search->spacing != 0) {
      continue;
    }
    cw_columns_save(&search->columns, checkpoint_at(search, j / search->spacing));
    if (cw_report_progress(report, "comparing", (double)j / (double)n_b)) {
      return CW_ERR_CANCELLED;
    }
  }
  return CW_OK;
}

/// Where the path ends, once all columns are done.
static int32_t find_end(const CwColumns *columns)
{
  const size_t n_a = columns->a->n;
  const float *score = cw_columns_best(columns);
  float highest = -INFINITY;
  size_t best = 0;
  for (size_t i = 0; i < n_a; i++) {
    const float here = score[i] - cw_columns_margin(columns, n_a - 1 - i);
    if (here > highest) {
      highest = here;
      best = i;
    }
  }
  return columns->nothing_score[columns->b->n - 1] > highest ? CW_NOWHERE : (int32_t)best;
}

/// Fill `how` for checkpoint `c` and the columns after it, up to the next.
static void redo(Search *search, size_t c)
{
  const size_t n_a = search->columns.a->n;
  const size_t first = c * search->spacing;
  cw_columns_restore(&search->columns, checkpoint_at(search, c));
  memset(search->how, 0, n_a);
  cw_columns_note_layers(&search->columns, search->how);
  for (size_t j = first + 1; j <= first + search->spacing && j < search->columns.b->n; j++) {
    uint8_t *how = search->how + (j - first) * n_a;
    cw_columns_explain(&search->columns, j, how);
    cw_columns_next(&search->columns, j);
    cw_columns_note_layers(&search->columns, how);
  }
}

/// A state on the way back.
typedef struct {
  int32_t a; ///< or CW_NOWHERE
  uint8_t layer;
} State;

/// The frame of a before `state` of column `j`, which is no stay. @param how What is written of the state.
static int32_t frame_before(const Search *search, size_t j, State state, uint8_t how)
{
  const CwColumns *columns = &search->columns;
  const float nothing = columns->nothing_score[j - 1];
  const int32_t by = how & CW_HOW_MASK;
  if (state.a == CW_NOWHERE) {
    return nothing >= -columns->price.nothing ? CW_NOWHERE : columns->best[j - 1];
  }
  if (by != CW_FRESH) {
    return state.a - by;
  }
  const float out_of_nothing = nothing - cw_columns_margin(columns, (size_t)state.a);
  return out_of_nothing > -columns->price.jump ? CW_NOWHERE : columns->best[j - 1];
}

/// The state before `state` of column `j`, of which `first` is the checkpoint before.
static State state_before(const Search *search, size_t first, size_t j, State state)
{
  const size_t n_a = search->columns.a->n;
  const uint8_t *before = search->how + (j - 1 - first) * n_a;
  const uint8_t how = state.a == CW_NOWHERE ? 0 : before[n_a + (size_t)state.a];
  if (state.layer == CW_PAUSED && !(how & CW_PAUSE_BEGINS)) {
    return state;
  }
  if (state.layer > 0 && state.layer <= CW_STAYS) {
    return (State){state.a, (uint8_t)(state.layer - 1)};
  }
  const int32_t a = state.layer == CW_PAUSED ? state.a : frame_before(search, j, state, how);
  return (State){a, a == CW_NOWHERE ? 0 : (uint8_t)(before[a] >> CW_LAYER_SHIFT)};
}

/// What a trail has of a state: nothing is played in a pause.
static int32_t played(State state)
{
  return state.layer == CW_PAUSED ? CW_NOWHERE : state.a;
}

static void walk_back(Search *search, int32_t *a)
{
  const size_t n_b = search->columns.b->n;
  const int32_t end = search->end;
  State state = {end, end == CW_NOWHERE ? 0 : cw_columns_best_layer(&search->columns, (size_t)end)};
  a[n_b - 1] = played(state);
  for (size_t c = (n_b - 1) / search->spacing + 1; c-- > 0;) {
    const size_t first = c * search->spacing;
    size_t j = first + search->spacing < n_b - 1 ? first + search->spacing : n_b - 1;
    redo(search, c);
    for (; j > first; j--) {
      state = state_before(search, first, j, state);
      a[j - 1] = played(state);
    }
  }
}

CwStatus cw_jumps_find(const CwFrames *a, const CwFrames *b, double rate_hz, const CwReport *report, CwTrail *trail)
{
  Search search = {0};
  CwColumns *columns = &search.columns;
  *trail = (CwTrail){.n = b->n};
  trail->a = cw_new(b->n, sizeof *trail->a);
  CwStatus status = trail->a ? prepare(a, b, &search) : CW_ERR_NO_MEM;
  if (!status) {
    columns->price = prices(find_threshold(columns), rate_hz);
    status = run_forward(&search, report);
  }
  if (!status) {
    const double threshold = (double)columns->price.threshold;
    trail->threshold = threshold;
    trail->gain =
        (columns->total + (double)fmaxf(0.0F, columns->nothing_score[b->n - 1])) / ((1.0 - threshold) * (double)b->n);
    search.end = find_end(columns);
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
