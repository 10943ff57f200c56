// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/jumps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// A jump costs as much as this many seconds of perfect match gain, and so does the way into nothing.
static const double jump_s = 7.0;
static const double nothing_s = 7.0;
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

/// How a state was reached: by a step of 1 to 3 frames of a, by a jump or out of nothing (FRESH), or by staying.
enum { STEP = 1, SKIP, LEAP, FRESH };

/// A frame of a may be stayed in for at most STAYS frames of b beyond its own: music is not played slower than that for
/// long, and a path that lingers would match anything to a held chord.
enum { STAYS = 2, LAYERS = STAYS + 1 };

enum { PAD = 4 };

/// A search while it runs. A state is a frame of a and a layer, which is how often it has been stayed in.
typedef struct {
  const CwFrames *a, *b;
  float threshold, jump, nothing, stay, skip, margin;
  size_t margin_frames;
  size_t spacing;       ///< columns between checkpoints
  float *score[LAYERS]; ///< of each state, less the best of its column
  float *next[LAYERS];  ///< the same for the next column
  float *best_score;    ///< over the layers; PAD cells in front are minus infinity
  float *likeness;      ///< of one column
  float *checkpoint;    ///< `score` at every `spacing`th column
  uint8_t *how;         ///< between two checkpoints: how each frame's first layer was reached, and which layer is best
  float *nothing_score; ///< of the state "nothing" in each column, less the best of its column
  int32_t *best;        ///< best frame of each column
  double total;         ///< the best score of the last column
  int32_t end;          ///< where the path ends, or CW_NOWHERE
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
static void set_threshold(Search *search)
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
  search->threshold = fminf(0.5F * (median(middle, n) + median(highest, n)), highest_threshold);
}

static void set_prices(Search *search, double rate_hz)
{
  const double perfect = 1.0 - (double)search->threshold;
  search->jump = (float)(jump_s * rate_hz * perfect);
  search->nothing = (float)(nothing_s * rate_hz * perfect);
  search->stay = (float)(stay_frames * perfect);
  search->skip = (float)(skip_frames * perfect);
  search->margin = (float)(margin_cost_s * rate_hz * perfect);
  search->margin_frames = (size_t)(margin_s * rate_hz);
}

static CwStatus prepare(Search *search)
{
  const size_t n_a = search->a->n;
  const size_t n_b = search->b->n;
  search->spacing = (size_t)ceil(sqrt((double)n_b));
  bool ok = true;
  for (size_t l = 0; l < LAYERS; l++) {
    search->score[l] = cw_new(n_a, sizeof *search->score[l]);
    search->next[l] = cw_new(n_a, sizeof *search->next[l]);
    ok = ok && search->score[l] && search->next[l];
  }
  search->best_score = cw_new(n_a + PAD, sizeof *search->best_score);
  search->likeness = cw_new(n_a, sizeof *search->likeness);
  search->checkpoint = cw_new((n_b / search->spacing + 1) * LAYERS * n_a, sizeof *search->checkpoint);
  search->how = cw_new((search->spacing + 1) * n_a, sizeof *search->how);
  search->nothing_score = cw_new(n_b, sizeof *search->nothing_score);
  search->best = cw_new(n_b, sizeof *search->best);
  ok = ok && search->best_score && search->likeness && search->checkpoint && search->how && search->nothing_score &&
       search->best;
  return ok ? CW_OK : CW_ERR_NO_MEM;
}

static void release(Search *search)
{
  for (size_t l = 0; l < LAYERS; l++) {
    free(search->score[l]);
    free(search->next[l]);
  }
  free(search->best_score);
  free(search->likeness);
  free(search->checkpoint);
  free(search->how);
  free(search->nothing_score);
  free(search->best);
}

/// The best of each frame's layers.
static void merge_layers(Search *search)
{
  float *best = search->best_score + PAD;
  for (size_t i = 0; i < search->a->n; i++) {
    float score = search->score[0][i];
    score = search->score[1][i] > score ? search->score[1][i] : score;
    score = search->score[2][i] > score ? search->score[2][i] : score;
    best[i] = score;
  }
}

/// What it costs to begin, or to end, so many frames from a's own beginning or end.
static float margin_cost(const Search *search, size_t frames)
{
  const size_t most = search->margin_frames;
  return search->margin * (float)(frames < most ? frames : most) / (float)most;
}

/// What frame `i` of a costs that is entered by a jump or out of nothing, after column `j`.
static float fresh_score(const Search *search, size_t j, size_t i)
{
  return fmaxf(-search->jump, search->nothing_score[j] - margin_cost(search, i));
}

/// The first layer of the next column; no branches, so that it is done many frames at once.
static void advance(const float *from, const float *likeness, size_t n, size_t j, const Search *search, float *to)
{
  const float fresh = fresh_score(search, j, n);
  const float skip = search->skip;
  const float leap = 2 * skip;
  const float threshold = search->threshold;
  for (size_t i = 0; i < n; i++) {
    float score = from[(ptrdiff_t)i - 1];
    const float skipped = from[(ptrdiff_t)i - 2] - skip;
    const float leapt = from[(ptrdiff_t)i - 3] - leap;
    score = skipped > score ? skipped : score;
    score = leapt > score ? leapt : score;
    score = fresh > score ? fresh : score;
    to[i] = score + (likeness[i] - threshold);
  }
  for (size_t i = 0; i < n && i < search->margin_frames; i++) { // where it costs less to come in
    to[i] = fmaxf(to[i], fresh_score(search, j, i) + (likeness[i] - threshold));
  }
}

/// How each frame's first layer of the next column is reached; agrees with advance().
static void explain(const float *from, size_t n, size_t j, const Search *search, uint8_t *how)
{
  const float skip = search->skip;
  const float late = fresh_score(search, j, n);
  for (size_t i = 0; i < n; i++) {
    float score = from[(ptrdiff_t)i - 1];
    uint8_t by = STEP;
    const float fresh = i < search->margin_frames ? fresh_score(search, j, i) : late;
    const float way[3] = {from[(ptrdiff_t)i - 2] - skip, from[(ptrdiff_t)i - 3] - 2 * skip, fresh};
    for (uint8_t w = 0; w < 3; w++) {
      if (way[w] > score) {
        score = way[w];
        by = (uint8_t)(w + SKIP);
      }
    }
    how[i] = by;
  }
}

static uint8_t best_layer(const Search *search, size_t i)
{
  size_t best = 0;
  for (size_t l = 1; l < LAYERS; l++) {
    best = search->score[l][i] > search->score[best][i] ? l : best;
  }
  return (uint8_t)best;
}

static void first_column(Search *search)
{
  for (size_t i = 0; i < search->a->n; i++) {
    search->next[0][i] = search->likeness[i] - search->threshold - margin_cost(search, i);
    for (size_t l = 1; l < LAYERS; l++) {
      search->next[l][i] = -INFINITY;
    }
  }
}

static void stay(const float *from, const float *likeness, size_t n, const Search *search, float *to)
{
  const float price = search->threshold + search->stay;
  for (size_t i = 0; i < n; i++) {
    to[i] = from[i] + (likeness[i] - price);
  }
}

/// Take the best of the new column from all of it. @return The best.
static float level(Search *search, size_t j)
{
  const size_t n_a = search->a->n;
  const float *best_score = search->best_score + PAD;
  size_t best = 0;
  for (size_t i = 1; i < n_a; i++) {
    best = best_score[i] > best_score[best] ? i : best;
  }
  const float highest = best_score[best];
  for (size_t l = 0; l < LAYERS; l++) {
    for (size_t i = 0; i < n_a; i++) {
      search->score[l][i] -= highest;
    }
  }
  merge_layers(search);
  search->best[j] = (int32_t)best;
  return highest;
}

/// Move to column `j` from the one before.
static void next_column(Search *search, size_t j)
{
  const size_t n_a = search->a->n;
  cw_frames_likeness(search->b, j, search->a, 0, n_a, search->likeness);
  if (j == 0) {
    first_column(search);
  } else {
    advance(search->best_score + PAD, search->likeness, n_a, j - 1, search, search->next[0]);
    for (size_t l = 1; l < LAYERS; l++) {
      stay(search->score[l - 1], search->likeness, n_a, search, search->next[l]);
    }
  }
  for (size_t l = 0; l < LAYERS; l++) {
    float *swap = search->score[l];
    search->score[l] = search->next[l];
    search->next[l] = swap;
  }
  merge_layers(search);
  const float highest = level(search, j);
  const float nothing = j == 0 ? 0.0F : fmaxf(search->nothing_score[j - 1], -search->nothing);
  search->nothing_score[j] = nothing - highest;
  search->total += (double)highest;
}

static CwStatus run_forward(Search *search, const CwReport *report)
{
  const size_t n_a = search->a->n;
  for (size_t k = 0; k < PAD; k++) {
    search->best_score[k] = -INFINITY;
  }
  for (size_t j = 0; j < search->b->n; j++) {
    next_column(search, j);
    if (j % search->spacing != 0) {
      continue;
    }
    for (size_t l = 0; l < LAYERS; l++) {
      memcpy(search->checkpoint + (j / search->spacing * LAYERS + l) * n_a, search->score[l],
             n_a * sizeof *search->score[l]);
    }
    if (cw_report_progress(report, "comparing", (double)j / (double)search->b->n)) {
      return CW_ERR_CANCELLED;
    }
  }
  return CW_OK;
}

/// Where the path ends, once all columns are done.
static int32_t find_end(const Search *search)
{
  const size_t n_a = search->a->n;
  const float *score = search->best_score + PAD;
  float highest = -INFINITY;
  size_t best = 0;
  for (size_t i = 0; i < n_a; i++) {
    const float here = score[i] - margin_cost(search, n_a - 1 - i);
    if (here > highest) {
      highest = here;
      best = i;
    }
  }
  return search->nothing_score[search->b->n - 1] > highest ? CW_NOWHERE : (int32_t)best;
}

enum { LAYER_SHIFT = 4, HOW_MASK = 15 };

static void note_layers(const Search *search, uint8_t *how)
{
  for (size_t i = 0; i < search->a->n; i++) {
    how[i] |= (uint8_t)(best_layer(search, i) << LAYER_SHIFT);
  }
}

/// Fill `how` for checkpoint `c` and the columns after it, up to the next.
static void redo(Search *search, size_t c)
{
  const size_t n_a = search->a->n;
  const size_t first = c * search->spacing;
  for (size_t l = 0; l < LAYERS; l++) {
    memcpy(search->score[l], search->checkpoint + (c * LAYERS + l) * n_a, n_a * sizeof *search->score[l]);
  }
  merge_layers(search);
  memset(search->how, 0, n_a);
  note_layers(search, search->how);
  for (size_t j = first + 1; j <= first + search->spacing && j < search->b->n; j++) {
    uint8_t *how = search->how + (j - first) * n_a;
    explain(search->best_score + PAD, n_a, j - 1, search, how);
    next_column(search, j);
    note_layers(search, how);
  }
}

/// A state on the way back.
typedef struct {
  int32_t a; ///< or CW_NOWHERE
  uint8_t layer;
} State;

/// The state before `state` of column `j`, of which `first` is the checkpoint before.
static State state_before(const Search *search, size_t first, size_t j, State state)
{
  const uint8_t *before = search->how + (j - 1 - first) * search->a->n;
  const float nothing = search->nothing_score[j - 1];
  if (state.a != CW_NOWHERE && state.layer > 0) {
    return (State){state.a, (uint8_t)(state.layer - 1)};
  }
  int32_t a = search->best[j - 1];
  if (state.a == CW_NOWHERE) {
    a = nothing >= -search->nothing ? CW_NOWHERE : a;
  } else {
    const int32_t how = before[(size_t)search->a->n + (size_t)state.a] & HOW_MASK;
    if (how != FRESH) {
      a = state.a - how;
    } else if (nothing - margin_cost(search, (size_t)state.a) > -search->jump) {
      a = CW_NOWHERE;
    }
  }
  return (State){a, a == CW_NOWHERE ? 0 : (uint8_t)(before[a] >> LAYER_SHIFT)};
}

static void walk_back(Search *search, int32_t *a)
{
  const size_t n_b = search->b->n;
  const int32_t end = search->end;
  State state = {end, end == CW_NOWHERE ? 0 : best_layer(search, (size_t)end)};
  a[n_b - 1] = end;
  for (size_t c = (n_b - 1) / search->spacing + 1; c-- > 0;) {
    const size_t first = c * search->spacing;
    size_t j = first + search->spacing < n_b - 1 ? first + search->spacing : n_b - 1;
    redo(search, c);
    for (; j > first; j--) {
      state = state_before(search, first, j, state);
      a[j - 1] = state.a;
    }
  }
}

CwStatus cw_jumps_find(const CwFrames *a, const CwFrames *b, double rate_hz, const CwReport *report, CwTrail *trail)
{
  Search search = {.a = a, .b = b};
  *trail = (CwTrail){.n = b->n};
  trail->a = cw_new(b->n, sizeof *trail->a);
  CwStatus status = trail->a ? prepare(&search) : CW_ERR_NO_MEM;
  if (!status) {
    set_threshold(&search);
    set_prices(&search, rate_hz);
    status = run_forward(&search, report);
  }
  if (!status) {
    trail->threshold = (double)search.threshold;
    trail->gain = (search.total + (double)fmaxf(0.0F, search.nothing_score[b->n - 1])) /
                  ((1.0 - (double)search.threshold) * (double)b->n);
    search.end = find_end(&search);
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
