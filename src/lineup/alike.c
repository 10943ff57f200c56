// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/alike.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/likeness.h"

#define WEIGHT 2.0    // of the likeness of one count, against the evidence for beats
#define ROUNDS 3      // of searches, at most
#define MOST_LOSS 8.0 // of what the path is worth by the music alone: likeness settles what that leaves open

/// Who follows whom.
typedef enum { LATER_FOLLOW, EARLIER_FOLLOW } Way;

/// A search with likeness as evidence.
typedef struct {
  CwLikeness likeness;
  CwPlan *plan;
  const CwSight *sight;
  const CwBands *bands;
  float *worth;   ///< by count and place in its band
  double *time_s; ///< of the path tried last
  size_t n_found;
  double plain;   ///< score of the path by the music alone ...
  size_t n_least; ///< ... and its counts
} Search;

static void search_free(Search *s)
{
  cw_likeness_free(&s->likeness);
  free(s->worth);
  free(s->time_s);
}

/// Whether a count is drawn to its counterparts. Models are those of the earliest phrases.
static bool is_drawn(const CwLikeness *l, size_t i, Way way)
{
  const bool is_model = l->model[i] == i;
  return l->model[i] != CW_NONE && l->is_alike[l->plan->count[i].phrase] && is_model == (way == EARLIER_FOLLOW);
}

/// Write down what every place in the bands is worth.
static void draw(Search *s, Way way)
{
  const size_t width = s->bands->width;
  for (size_t i = 0; i < s->plan->n; i++) {
    const bool drawn = is_drawn(&s->likeness, i, way) && s->likeness.length_s[i] > 0;
    float *worth = s->worth + i * width;
    s->plan->count[i].worth = drawn ? worth : NULL;
    for (size_t place = 0; place < width && drawn; place++) {
      const double at_s = (double)(s->bands->first[i] + place) / s->sight->rate_hz;
      worth[place] = (float)(WEIGHT * cw_likeness_at(&s->likeness, i, at_s, s->likeness.length_s[i]));
    }
  }
}

static void undraw(Search *s)
{
  for (size_t i = 0; i < s->plan->n; i++) {
    s->plan->count[i].worth = NULL;
  }
}

/// Score of a path by the music alone: less what it gained by worth.
static double plain_score(const Search *s, double score, const double *time_s, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    const size_t place = (size_t)lround(time_s[i] * s->sight->rate_hz) - s->bands->first[i];
    score -= s->plan->count[i].worth && place < s->bands->width ? (double)s->plan->count[i].worth[place] : 0.0;
  }
  return score;
}

/// What a path is worth by likeness: of the phrases judged alike, each where the path has it.
static double likeness_score(Search *s, const double *time_s, size_t n)
{
  double sum = 0;
  cw_likeness_place(&s->likeness, time_s, n);
  for (size_t i = 0; i < n; i++) {
    if (s->likeness.is_alike[s->plan->count[i].phrase] && s->likeness.length_s[i] > 0) {
      sum += WEIGHT * cw_likeness_at(&s->likeness, i, time_s[i], s->likeness.length_s[i]);
    }
  }
  return sum;
}

/// Search one way. @param[out] score Of the path by the music and by likeness; -INFINITY where that goes against the
/// music.
static CwStatus search(Search *s, Way way, const CwReport *report, double *score)
{
  double found = 0;
  draw(s, way);
  CwStatus status = cw_follow_scored(s->plan, s->sight, s->bands, report, s->time_s, &s->n_found, &found);
  if (status == CW_OK) {
    *score = plain_score(s, found, s->time_s, s->n_found);
  }
  undraw(s);
  if (status == CW_OK) {
    const bool against = *score < s->plain - MOST_LOSS || s->n_found < s->n_least;
    *score = against ? -INFINITY : *score + likeness_score(s, s->time_s, s->n_found);
  }
  return status;
}

/// Counts that two paths have in different places.
static size_t count_moved(const double *a, size_t n_a, const double *b, size_t n_b)
{
  size_t n = 0;
  for (size_t i = 0; i < n_a && i < n_b; i++) {
    n += fabs(a[i] - b[i]) > CW_MOVED_S;
  }
  return n + (n_a > n_b ? n_a - n_b : n_b - n_a);
}

/// Search from the path in `time_s` both ways; keep the best. @param[in,out] best Score of the path, -INFINITY unknown.
static CwStatus improve(Search *s, const CwReport *report, double *time_s, size_t *n_found, double *best, bool *changed)
{
  double *from_s = cw_new(s->plan->n, sizeof *from_s);
  if (!from_s) {
    return CW_ERR_NO_MEM;
  }
  const size_t n_from = *n_found;
  memcpy(from_s, time_s, s->plan->n * sizeof *from_s);
  CwStatus status = CW_OK;
  *changed = false;
  for (Way way = LATER_FOLLOW; way <= EARLIER_FOLLOW && status == CW_OK; way++) {
    double score = -INFINITY;
    cw_likeness_place(&s->likeness, from_s, n_from);
    status = search(s, way, report, &score);
    if (status == CW_OK && score > *best + 1e-3) {
      *changed = count_moved(time_s, *n_found, s->time_s, s->n_found) > 0;
      *best = score;
      *n_found = s->n_found;
      memcpy(time_s, s->time_s, s->plan->n * sizeof *time_s);
    }
    status = status == CW_ERR_NO_PULSE ? CW_OK : status;
  }
  free(from_s);
  return status;
}

/// Search again and again, as long as something is gained.
static CwStatus settle(Search *s, double score, const CwReport *report, double *time_s, size_t *n_found,
                       size_t *n_moved)
{
  const size_t n_before = *n_found;
  double *before_s = cw_new(s->plan->n, sizeof *before_s);
  s->worth = cw_new(s->plan->n * s->bands->width, sizeof *s->worth);
  s->time_s = cw_new(s->plan->n, sizeof *s->time_s);
  CwStatus status = before_s && s->worth && s->time_s ? CW_OK : CW_ERR_NO_MEM;
  double best = score;
  s->plain = score;
  s->n_least = *n_found;
  if (status == CW_OK) {
    memcpy(before_s, time_s, s->plan->n * sizeof *before_s);
    best += likeness_score(s, time_s, *n_found);
  }
  bool changed = true;
  for (int round = 0; round < ROUNDS && changed && status == CW_OK; round++) {
    status = improve(s, report, time_s, n_found, &best, &changed);
  }
  *n_moved = status == CW_OK ? count_moved(before_s, n_before, time_s, *n_found) : 0;
  free(before_s);
  return status;
}

CwStatus cw_follow_alike(const CwFeatures *features, const CwNotebook *notebook, CwPlan *plan, const CwSight *sight,
                         const CwBands *bands, double score, const CwReport *report, double *time_s, size_t *n_found,
                         CwEvidence *evidence)
{
  Search s = {.plan = plan, .sight = sight, .bands = bands};
  CwStatus status = cw_likeness_init(&s.likeness, features, notebook, plan);
  if (status == CW_OK && cw_likeness_any(&s.likeness)) {
    cw_likeness_place(&s.likeness, time_s, *n_found);
    if (cw_likeness_judge(&s.likeness, time_s, *n_found, &evidence->n_repeats, &evidence->n_alike)) {
      status = settle(&s, score, report, time_s, n_found, &evidence->n_moved_by_alike);
    }
  }
  search_free(&s);
  return status;
}
