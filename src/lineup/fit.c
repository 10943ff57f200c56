// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/fit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/again.h"
#include "lineup/edits.h"
#include "lineup/heard_ones.h"
#include "lineup/kept.h"

enum {
  TRIALS = 3,             // places where a number of counts more or less is tried
  MOST_SUMS = 12,         // numbers of counts more or less
  MOST_IN_FULL = 6,       // changes that are lined up in full
  MOST_WITH_REPEATS = 48, // changes whose repeats are compared
  MOST_FITS = 5,
  MOST_COUNTS = 32 // of a phrase that is made longer
};

#define LEAST_GAIN 4.5  // a change that is worth less is not told
#define REST_COUNTS 3   // counts after the music: a dance often ends in a rest ...
#define BEYOND_COST 1.0 // ... and what each further one costs
#define AS_GOOD 0.4     // two changes that differ by less cannot be told apart
#define CALM 0.5        // evidence counted once for beats and once for phrases is not independent

/// Notes with so many counts more, lined up.
typedef struct {
  long more;
  CwFall fall;
  double *worth; ///< of its counts as ones
  double beyond; ///< what its counts after the music cost
} Grid;

/// A change that was thought of.
typedef struct {
  CwEdit edit;
  double cost;  ///< of the change itself
  double worth; ///< as far as it is known
  const Grid *grid;
  bool taken; ///< it is told, or as good as one that is
} Thought;

typedef struct {
  CwAgain again;
  const CwNotebook *notebook;
  unsigned usual;
  Grid grid[MOST_SUMS * TRIALS];
  size_t n_grids;
  Thought *thought;
  size_t n_thoughts, room;
} Work;

static CwStatus think(Work *w, CwFitKind kind, size_t at, unsigned counts, double cost)
{
  if (!cw_grow(&w->thought, &w->room, w->n_thoughts, sizeof *w->thought)) {
    return CW_ERR_NO_MEM;
  }
  w->thought[w->n_thoughts++] = (Thought){.edit = {kind, at, counts}, .cost = cost, .worth = -INFINITY};
  return CW_OK;
}

/// What it costs to think that a phrase has so many counts more: whole and half phrases are forgotten oftener than counts.
/// and a phrase is most likely as long as most are.
static double length_cost(unsigned had, long more, unsigned usual)
{
  const long size = labs(more);
  const double cost = 2 * size == (long)usual ? 2.5 : size % 2 == 0 ? 4.0 : 5.0;
  return cost + (had == usual ? 0.5 : 0.0) - ((long)had + more == (long)usual ? 1.5 : 0.0);
}

/// All changes of one phrase.
static CwStatus think_of_phrase(Work *w, size_t p)
{
  static const int mores[] = {4, -4, 2, -2, 1, -1};
  const unsigned counts = w->notebook->phrase[p].counts;
  CwStatus status = w->notebook->n_phrases > 1 ? think(w, CW_FIT_EXTRA, p, 0, 2.5) : CW_OK;
  for (size_t i = 0; i < sizeof mores / sizeof mores[0] && status == CW_OK; i++) {
    const long more = (long)counts + mores[i];
    if (more >= 2 && more <= MOST_COUNTS) {
      status = think(w, CW_FIT_LENGTH, p, (unsigned)more, length_cost(counts, mores[i], w->usual));
    }
  }
  return status;
}

static CwStatus think_of_all(Work *w)
{
  CwStatus status = CW_OK;
  for (size_t p = 0; p <= w->notebook->n_phrases && status == CW_OK; p++) {
    status = think(w, CW_FIT_MISSING, p, w->usual, 2.0);
    if (status == CW_OK && w->usual % 2 == 0 && w->usual > 2) {
      status = think(w, CW_FIT_MISSING, p, w->usual / 2, 3.0);
    }
    if (status == CW_OK && p < w->notebook->n_phrases) {
      status = think_of_phrase(w, p);
    }
  }
  return status;
}

/// What counts cost that come after the last sound.
static double beyond_cost(const CwAgain *again, const CwFall *fall)
{
  const double end_s = cw_sound_end(&again->kept.sound);
  size_t n = 0;
  while (n < fall->n_found && fall->time_s[fall->n_found - 1 - n] > end_s) {
    n++;
  }
  return n > REST_COUNTS ? BEYOND_COST * (double)(n - REST_COUNTS) : 0.0;
}

/// Line up the notes with a change, and listen to its ones. @param fine As cw_again_follow().
static CwStatus follow(Work *w, CwEdit edit, bool fine, Grid *grid)
{
  CwNotebook changed;
  grid->more = cw_edit_counts(w->notebook, edit);
  CwStatus status = cw_edit_apply(w->notebook, edit, &changed);
  if (status != CW_OK) {
    return status;
  }
  status = cw_again_follow(&w->again, &changed, fine, &grid->fall);
  if (status == CW_OK) {
    grid->beyond = beyond_cost(&w->again, &grid->fall);
    status = cw_heard_ones(w->again.features, &grid->fall, w->usual, &grid->worth);
  }
  cw_edit_free(&changed);
  return status;
}

static bool is_tried(const Work *w, long more)
{
  bool tried = false;
  for (size_t i = 0; i < w->n_grids; i++) {
    tried = tried || w->grid[i].more == more;
  }
  return tried;
}

/// Try a number of counts more at some places, at changes that come to it.
static CwStatus try_sum(Work *w, long more)
{
  size_t n = 0;
  for (size_t i = 0; i < w->n_thoughts; i++) {
    n += cw_edit_counts(w->notebook, w->thought[i].edit) == more;
  }
  CwStatus status = CW_OK;
  for (size_t trial = 0; trial < TRIALS && trial < n && status == CW_OK; trial++) {
    const size_t wanted = n * (2 * trial + 1) / (2 * TRIALS);
    size_t seen = 0;
    for (size_t i = 0; i < w->n_thoughts; i++) {
      if (cw_edit_counts(w->notebook, w->thought[i].edit) == more && seen++ == wanted) {
        status = follow(w, w->thought[i].edit, false, &w->grid[w->n_grids]);
        w->n_grids += status == CW_OK;
        status = status == CW_ERR_NO_PULSE ? CW_OK : status; // so many counts fit nowhere
        break;
      }
    }
  }
  return status;
}

static CwStatus try_sums(Work *w)
{
  CwStatus status = CW_OK;
  size_t n = 0;
  for (size_t i = 0; i < w->n_thoughts && status == CW_OK && n < MOST_SUMS; i++) {
    const long more = cw_edit_counts(w->notebook, w->thought[i].edit);
    if (!is_tried(w, more)) {
      status = try_sum(w, more);
      n += is_tried(w, more);
    }
  }
  return status;
}

/// What a change is worth by the counts of a grid, its own counts laid over them.
static CwStatus weigh(Work *w, Thought *thought, const Grid *grid, bool repeats)
{
  CwNotebook changed;
  double heard = 0;
  CwStatus status = cw_edit_apply(w->notebook, thought->edit, &changed);
  if (status != CW_OK) {
    return status;
  }
  for (size_t p = 0; p < changed.n_phrases && !repeats; p++) {
    changed.phrase[p].like = CW_NONE;
  }
  status = cw_heard_sum(w->again.features, &changed, grid->fall.time_s, grid->worth, grid->fall.n_found, &heard);
  cw_edit_free(&changed);
  const double worth = grid->fall.score + heard - grid->beyond - thought->cost;
  if (status == CW_OK && (repeats || worth > thought->worth)) {
    thought->worth = worth;
    thought->grid = grid;
  }
  return status;
}

static int compare(const void *left, const void *right)
{
  const Thought *a = left;
  const Thought *b = right;
  if (a->worth != b->worth) {
    return a->worth > b->worth ? -1 : 1;
  }
  return a->edit.at != b->edit.at ? (a->edit.at < b->edit.at ? -1 : 1) : (int)a->edit.kind - (int)b->edit.kind;
}

/// Weigh all changes by the grids as long as they are, the best with their repeats; sort them.
static CwStatus weigh_all(Work *w)
{
  CwStatus status = CW_OK;
  for (size_t i = 0; i < w->n_thoughts; i++) {
    for (size_t g = 0; g < w->n_grids && status == CW_OK; g++) {
      if (w->grid[g].more == cw_edit_counts(w->notebook, w->thought[i].edit)) {
        status = weigh(w, &w->thought[i], &w->grid[g], false);
      }
    }
  }
  qsort(w->thought, w->n_thoughts, sizeof *w->thought, compare);
  const size_t n = w->n_thoughts < MOST_WITH_REPEATS ? w->n_thoughts : MOST_WITH_REPEATS;
  for (size_t i = 0; i < n && status == CW_OK && w->thought[i].grid; i++) {
    status = weigh(w, &w->thought[i], w->thought[i].grid, true);
  }
  qsort(w->thought, n, sizeof *w->thought, compare);
  return status;
}

static void grid_free(Grid *grid)
{
  cw_fall_free(&grid->fall);
  free(grid->worth);
  grid->worth = NULL;
}

/// What the notes are worth as they are.
static CwStatus weigh_none(Work *w, double *worth)
{
  Grid grid = {0};
  double heard = 0;
  CwStatus status = cw_again_follow(&w->again, w->notebook, true, &grid.fall);
  if (status == CW_OK) {
    status = cw_heard_ones(w->again.features, &grid.fall, w->usual, &grid.worth);
  }
  if (status == CW_OK) {
    status = cw_heard_sum(w->again.features, w->notebook, grid.fall.time_s, grid.worth, grid.fall.n_found, &heard);
  }
  *worth = grid.fall.score + heard - (status == CW_OK ? beyond_cost(&w->again, &grid.fall) : 0.0);
  grid_free(&grid);
  return status;
}

static Thought *find_thought(Work *w, CwFitKind kind, size_t at, long more)
{
  for (size_t i = 0; i < w->n_thoughts; i++) {
    Thought *thought = &w->thought[i];
    if (thought->edit.kind == kind && thought->edit.at == at && cw_edit_counts(w->notebook, thought->edit) == more) {
      return thought;
    }
  }
  return NULL;
}

/// Take a change, with those of its neighbours that are as good. @param step 1: after it; -1: before it.
/// @return The last of them.
static size_t take_as_good(Work *w, const Thought *best, long step)
{
  const long more = cw_edit_counts(w->notebook, best->edit);
  size_t at = best->edit.at;
  while ((step > 0 || at > 0) && at <= w->notebook->n_phrases) {
    Thought *next = find_thought(w, best->edit.kind, step > 0 ? at + 1 : at - 1, more);
    if (!next || next->taken || next->edit.counts != best->edit.counts || next->worth < best->worth - AS_GOOD) {
      break;
    }
    next->taken = true;
    at = next->edit.at;
  }
  return at;
}

/// Line a change up in full. @param[out] fit With its gain.
static CwStatus weigh_one(Work *w, Thought *thought, double none, CwFit *fit)
{
  Grid grid = {0};
  const size_t is_there = thought->edit.kind != CW_FIT_MISSING;
  *fit = (CwFit){.kind = thought->edit.kind,
                 .phrase = thought->edit.at + is_there,
                 .first = take_as_good(w, thought, -1) + is_there,
                 .last = take_as_good(w, thought, 1) + is_there,
                 .counts = thought->edit.counts};
  CwStatus status = follow(w, thought->edit, true, &grid);
  if (status == CW_OK) {
    status = weigh(w, thought, &grid, true);
  }
  if (status == CW_OK) {
    size_t first = 0;
    while (first + 1 < grid.fall.n_found && grid.fall.plan.count[first].phrase < thought->edit.at) {
      first++;
    }
    fit->gain = thought->worth - none;
    fit->at_s = grid.fall.time_s[first];
  }
  thought->grid = NULL;
  grid_free(&grid);
  return status;
}

/// Line the best changes up in full.
static CwStatus weigh_in_full(Work *w, double none, CwFit *fit, size_t *n)
{
  CwStatus status = CW_OK;
  *n = 0;
  for (size_t i = 0; i < w->n_thoughts && *n < MOST_IN_FULL && status == CW_OK; i++) {
    if (!w->thought[i].grid || w->thought[i].taken) {
      continue;
    }
    w->thought[i].taken = true;
    status = weigh_one(w, &w->thought[i], none, &fit[*n]);
    *n += status == CW_OK;
    status = status == CW_ERR_NO_PULSE ? CW_OK : status;
  }
  return status;
}

static int compare_fits(const void *left, const void *right)
{
  const CwFit *a = left;
  const CwFit *b = right;
  if (a->gain != b->gain) {
    return a->gain > b->gain ? -1 : 1;
  }
  return a->phrase != b->phrase ? (a->phrase < b->phrase ? -1 : 1) : (int)a->kind - (int)b->kind;
}

/// Give each its share, and keep those worth telling.
static void share(CwFit *fit, size_t n, CwFits *fits)
{
  double all = 1.0;
  if (n > 1) {
    qsort(fit, n, sizeof *fit, compare_fits);
  }
  const double most = n > 0 && fit[0].gain > 0 ? fit[0].gain : 0.0;
  all = exp(-CALM * most);
  for (size_t i = 0; i < n; i++) {
    all += exp(CALM * (fit[i].gain - most));
  }
  fits->as_it_is = exp(-CALM * most) / all;
  fits->n_weighed = n;
  for (size_t i = 0; i < n && i < MOST_FITS && fit[i].gain >= LEAST_GAIN; i++) {
    fit[i].chance = exp(CALM * (fit[i].gain - most)) / all;
    fits->n++;
  }
  fits->fit = fit;
}

static CwStatus find(Work *w, CwFits *fits)
{
  double none = 0;
  size_t n = 0;
  CwFit *fit = cw_new(MOST_IN_FULL, sizeof *fit);
  CwStatus status = fit ? weigh_none(w, &none) : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    status = think_of_all(w);
  }
  if (status == CW_OK) {
    status = try_sums(w);
  }
  if (status == CW_OK) {
    status = weigh_all(w);
  }
  if (status == CW_OK) {
    status = weigh_in_full(w, none, fit, &n);
  }
  if (status == CW_OK) {
    share(fit, n, fits);
  } else {
    free(fit);
  }
  return status == CW_ERR_NO_PULSE ? CW_OK : status;
}

CwStatus cw_fits_find(const CwFeatures *features, const CwNotebook *notebook, const CwLineupOptions *options,
                      const CwReport *report, CwCountLine *line, CwMessages *messages, CwFits *fits)
{
  Work work = {.notebook = notebook};
  CwKept kept;
  *fits = (CwFits){.as_it_is = 1.0};
  CwStatus status = cw_lineup_kept(features, notebook, options, report, line, messages, &kept);
  if (status != CW_OK) {
    return status;
  }
  const unsigned usual = notebook->head.counts_per_phrase;
  work.usual = usual > 1 ? usual : 8;
  status = cw_again_init(&work.again, features, &kept);
  if (status == CW_OK && line->n_phrases > 0) {
    const double given = options ? options->beats_per_count : 0.0;
    work.again.report = report;
    work.again.beats_per_count = cw_plan_level_is_given(notebook, given) ? given : line->beats_per_count;
    work.again.without_pins = options && options->without_pins;
    status = find(&work, fits);
  }
  for (size_t i = 0; i < work.n_grids; i++) {
    grid_free(&work.grid[i]);
  }
  free(work.thought);
  cw_again_free(&work.again);
  if (status != CW_OK) {
    cw_count_line_free(line);
    cw_fits_free(fits);
  }
  return status;
}

void cw_fits_free(CwFits *fits)
{
  if (fits) {
    free(fits->fit);
    *fits = (CwFits){0};
  }
}
