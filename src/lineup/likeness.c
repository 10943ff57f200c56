// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/likeness.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { KEYS = 12, MOST_SHIFT = 16 }; // pitch classes; counts that a phrase is moved to try

#define ROWS_A_SECOND ((double)CW_FEATURE_RATE_HZ / CW_SLOW_STEP)
#define ALIKE 0.4          // mean likeness of music that is the same, at least: other music of the key stays under 0.3
#define PLAINLY_BETTER 0.1 // likeness gained elsewhere that is worth a search

static void sum_chroma(CwLikeness *l, const CwFeatures *features)
{
  double mean[KEYS] = {0};
  for (size_t row = 0; row < l->n_rows; row++) {
    for (size_t k = 0; k < KEYS; k++) {
      mean[k] += (double)features->chroma[row * KEYS + k] / (double)l->n_rows;
    }
  }
  for (size_t row = 0; row < l->n_rows; row++) {
    for (size_t k = 0; k < KEYS; k++) {
      l->sum[(row + 1) * KEYS + k] = l->sum[row * KEYS + k] + (double)features->chroma[row * KEYS + k] - mean[k];
    }
  }
}

/// The first phrase that phrase `p` is like.
static size_t root_of(const CwNotebook *notebook, size_t p)
{
  while (notebook->phrase[p].like != CW_NONE && notebook->phrase[p].like < p) {
    p = notebook->phrase[p].like;
  }
  return p;
}

/// Find the counterparts. A model is marked as such once another count follows it.
static void find_models(CwLikeness *l, const CwNotebook *notebook)
{
  const CwPlanCount *count = l->plan->count;
  for (size_t i = 0; i < l->plan->n; i++) {
    const size_t p = count[i].phrase;
    if (i == 0 || count[i - 1].phrase != p) {
      l->first[p] = i;
    }
    const size_t root = root_of(notebook, p);
    const size_t k = i - l->first[p];
    l->model[i] = CW_NONE;
    if (root != p && k < notebook->phrase[root].counts) {
      l->model[i] = l->first[root] + k;
      l->model[l->model[i]] = l->model[i];
    }
  }
}

CwStatus cw_likeness_init(CwLikeness *l, const CwFeatures *features, const CwNotebook *notebook, const CwPlan *plan)
{
  const size_t n = plan->n;
  *l = (CwLikeness){.plan = plan, .n_rows = features->n_slow, .n_phrases = plan->count[n - 1].phrase + 1};
  l->sum = cw_new((l->n_rows + 1) * KEYS, sizeof *l->sum);
  l->model = cw_new(n, sizeof *l->model);
  l->first = cw_new(l->n_phrases, sizeof *l->first);
  l->is_alike = cw_new(l->n_phrases, sizeof *l->is_alike);
  l->harmony = cw_new(n * KEYS, sizeof *l->harmony);
  l->all = cw_new(n * KEYS, sizeof *l->all);
  l->n_all = cw_new(n, sizeof *l->n_all);
  l->length_s = cw_new(n, sizeof *l->length_s);
  if (!l->sum || !l->model || !l->first || !l->is_alike || !l->harmony || !l->all || !l->n_all || !l->length_s) {
    cw_likeness_free(l);
    return CW_ERR_NO_MEM;
  }
  sum_chroma(l, features);
  find_models(l, notebook);
  return CW_OK;
}

bool cw_likeness_any(const CwLikeness *l)
{
  for (size_t i = 0; i < l->plan->n; i++) {
    if (l->model[i] != CW_NONE) {
      return true;
    }
  }
  return false;
}

/// Bring to length 1, if there is any.
static void to_length_one(double *vector)
{
  double square = 0;
  for (size_t k = 0; k < KEYS; k++) {
    square += vector[k] * vector[k];
  }
  for (size_t k = 0; k < KEYS && square > 1e-12; k++) {
    vector[k] /= sqrt(square);
  }
}

/// Mean chroma of a stretch.
static void harmony_of(const CwLikeness *l, double time_s, double length_s, double *harmony)
{
  const double last = (double)l->n_rows;
  const size_t from = (size_t)fmin(fmax(round(time_s * ROWS_A_SECOND), 0.0), last);
  const size_t to = (size_t)fmin(fmax(round((time_s + length_s) * ROWS_A_SECOND), 0.0), last);
  for (size_t k = 0; k < KEYS; k++) {
    harmony[k] = to > from ? l->sum[to * KEYS + k] - l->sum[from * KEYS + k] : 0.0;
  }
  to_length_one(harmony);
}

void cw_likeness_place(CwLikeness *l, const double *time_s, size_t n)
{
  const CwPlanCount *count = l->plan->count;
  memset(l->harmony, 0, l->plan->n * KEYS * sizeof *l->harmony);
  memset(l->all, 0, l->plan->n * KEYS * sizeof *l->all);
  memset(l->n_all, 0, l->plan->n * sizeof *l->n_all);
  memset(l->length_s, 0, l->plan->n * sizeof *l->length_s);
  for (size_t i = 0; i < n; i++) {
    const bool cut = i + 1 == n || count[i + 1].after_hold;
    l->length_s[i] = !cut ? time_s[i + 1] - time_s[i] : i > 0 ? l->length_s[i - 1] : 0.0;
    harmony_of(l, time_s[i], l->length_s[i], l->harmony + i * KEYS);
    if (l->model[i] == CW_NONE) {
      continue;
    }
    for (size_t k = 0; k < KEYS; k++) {
      l->all[l->model[i] * KEYS + k] += l->harmony[i * KEYS + k];
    }
    l->n_all[l->model[i]]++;
  }
}

double cw_likeness_at(const CwLikeness *l, size_t count, double time_s, double length_s)
{
  const size_t model = l->model[count];
  if (model == CW_NONE || l->n_all[model] < 2 || l->length_s[count] <= 0) {
    return 0.0;
  }
  double here[KEYS];
  harmony_of(l, time_s, length_s, here);
  double likeness = 0;
  for (size_t k = 0; k < KEYS; k++) {
    likeness += here[k] * (l->all[model * KEYS + k] - l->harmony[count * KEYS + k]);
  }
  return likeness / (double)(l->n_all[model] - 1);
}

double cw_likeness_of_phrase(const CwLikeness *l, size_t p, const double *time_s, double shift_s)
{
  double sum = 0;
  double n = 0;
  for (size_t i = l->first[p]; i < l->plan->n && l->plan->count[i].phrase == p; i++) {
    if (l->model[i] != CW_NONE && l->length_s[i] > 0) {
      sum += cw_likeness_at(l, i, time_s[i] + shift_s, l->length_s[i]);
      n++;
    }
  }
  return n > 0 ? sum / n : 0.0;
}

bool cw_likeness_judge(CwLikeness *l, const double *time_s, size_t n, size_t *n_repeats, size_t *n_alike)
{
  bool better = false;
  *n_repeats = *n_alike = 0;
  memset(l->is_alike, 0, l->n_phrases * sizeof *l->is_alike);
  for (size_t p = 0; p < l->n_phrases && l->first[p] < n; p++) {
    const size_t i = l->first[p];
    if (l->model[i] == CW_NONE) {
      continue;
    }
    const double here = cw_likeness_of_phrase(l, p, time_s, 0.0);
    double best = here;
    for (int shift = -MOST_SHIFT; shift <= MOST_SHIFT; shift++) {
      best = fmax(best, cw_likeness_of_phrase(l, p, time_s, shift * l->length_s[i]));
    }
    l->is_alike[p] = best >= ALIKE;
    better = better || (l->is_alike[p] && best > here + PLAINLY_BETTER);
    *n_repeats += l->model[i] != i;
    *n_alike += l->model[i] != i && l->is_alike[p];
  }
  return better;
}

void cw_likeness_free(CwLikeness *l)
{
  free(l->sum);
  free(l->model);
  free(l->first);
  free(l->is_alike);
  free(l->harmony);
  free(l->all);
  free(l->n_all);
  free(l->length_s);
  memset(l, 0, sizeof *l);
}
