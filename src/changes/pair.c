// SPDX-License-Identifier: GPL-3.0-or-later
#include "changes/pair.h"

#include <stdlib.h>

#include "base/memory.h"
#include "changes/order.h"

// by eye, from notes of our own
#define SAME_LIKENESS 0.6   // in order
#define MOVED_LIKENESS 0.75 // elsewhere
#define LITTLE_LIKENESS 0.2 // between paired neighbours
#define MOST_MOVES 4000000  // of old times new phrases left over that are compared one by one

/// Two phrases that may have moved.
typedef struct {
  double likeness;
  size_t old_phrase;
  size_t new_phrase;
} Candidate;

static void pair(void *user, size_t old_phrase, size_t new_phrase)
{
  CwPairs *pairs = user;
  pairs->new_of[old_phrase] = new_phrase;
  pairs->old_of[new_phrase] = old_phrase;
}

static int compare(const void *left, const void *right)
{
  const Candidate *a = left;
  const Candidate *b = right;
  if (a->likeness != b->likeness) {
    return a->likeness > b->likeness ? -1 : 1;
  }
  const size_t sum_a = a->old_phrase + a->new_phrase;
  const size_t sum_b = b->old_phrase + b->new_phrase;
  return sum_a != sum_b ? (sum_a < sum_b ? -1 : 1) : a->old_phrase < b->old_phrase ? -1 : a->old_phrase > b->old_phrase;
}

/// Phrases without words say nothing by which they could be known elsewhere.
static bool is_telling(const CwGist *gist)
{
  return gist->n_words > 0;
}

static CwStatus pair_moved(const CwGist *before, const CwGist *after, CwPairs *pairs)
{
  Candidate *list = NULL;
  size_t n = 0;
  size_t room = 0;
  size_t looked = 0;
  for (size_t i = 0; i < pairs->n_old; i++) {
    for (size_t k = 0; k < pairs->n_new && pairs->new_of[i] == CW_NONE && looked < MOST_MOVES; k++) {
      if (pairs->old_of[k] != CW_NONE || !is_telling(&before[i])) {
        continue;
      }
      looked++;
      const double likeness = cw_gist_likeness(&before[i], &after[k]);
      if (likeness < MOVED_LIKENESS) {
        continue;
      }
      if (!cw_grow(&list, &room, n, sizeof *list)) {
        free(list);
        return CW_ERR_NO_MEM;
      }
      list[n++] = (Candidate){likeness, i, k};
    }
  }
  if (n > 0) {
    qsort(list, n, sizeof *list, compare);
  }
  for (size_t c = 0; c < n; c++) {
    if (pairs->new_of[list[c].old_phrase] == CW_NONE && pairs->old_of[list[c].new_phrase] == CW_NONE) {
      pair(pairs, list[c].old_phrase, list[c].new_phrase);
      pairs->moved[list[c].new_phrase] = true;
    }
  }
  free(list);
  return CW_OK;
}

/// Whether new phrase `k` is paired and keeps its place among its neighbours.
static bool is_settled(const CwPairs *pairs, size_t k)
{
  return pairs->old_of[k] != CW_NONE && !pairs->moved[k];
}

/// What is left between two settled phrases, and which phrases these are.
typedef struct {
  CwPairs *pairs;
  CwGist *before, *after;
  size_t *old_at, *new_at;
} Rest;

static void pair_rest(void *user, size_t old_phrase, size_t new_phrase)
{
  const Rest *rest = user;
  pair(rest->pairs, rest->old_at[old_phrase], rest->new_at[new_phrase]);
}

/// Gather the phrases from `from` on before `to` that are not paired.
static size_t gather(const size_t *partner, const CwGist *gist, size_t from, size_t to, CwGist *out, size_t *at)
{
  size_t n = 0;
  for (size_t i = from; i < to; i++) {
    if (partner[i] == CW_NONE) {
      out[n] = gist[i];
      at[n++] = i;
    }
  }
  return n;
}

/// Pair what is left of the new phrases from `new_from` on before `new_to`, whose neighbours are settled.
static CwStatus pair_between(const CwGist *before, const CwGist *after, CwPairs *pairs, size_t new_from, size_t new_to)
{
  const size_t old_from = new_from > 0 ? pairs->old_of[new_from - 1] + 1 : 0;
  const size_t old_to = new_to < pairs->n_new ? pairs->old_of[new_to] : pairs->n_old;
  const size_t n_old = old_to - old_from;
  const size_t n_new = new_to - new_from;
  if (n_old == 0 || n_new == 0) {
    return CW_OK;
  }
  Rest rest = {pairs, cw_new(n_old, sizeof(CwGist)), cw_new(n_new, sizeof(CwGist)), cw_new(n_old, sizeof(size_t)),
               cw_new(n_new, sizeof(size_t))};
  CwStatus status = rest.before && rest.after && rest.old_at && rest.new_at ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    const size_t left_old = gather(pairs->new_of, before, old_from, old_to, rest.before, rest.old_at);
    const size_t left_new = gather(pairs->old_of, after, new_from, new_to, rest.after, rest.new_at);
    status = cw_pair_in_order((CwStretch){rest.before, rest.after, 0, left_old, 0, left_new}, LITTLE_LIKENESS,
                              pair_rest, &rest);
  }
  free(rest.before);
  free(rest.after);
  free(rest.old_at);
  free(rest.new_at);
  return status;
}

static CwStatus pair_little_alike(const CwGist *before, const CwGist *after, CwPairs *pairs)
{
  CwStatus status = CW_OK;
  for (size_t from = 0; from < pairs->n_new && status == CW_OK;) {
    size_t to = from;
    while (to < pairs->n_new && !is_settled(pairs, to)) {
      to++;
    }
    status = to > from ? pair_between(before, after, pairs, from, to) : CW_OK;
    from = to + 1;
  }
  return status;
}

static CwStatus make_pairs(const CwGist *before, size_t n_old, const CwGist *after, size_t n_new, CwPairs *pairs)
{
  *pairs = (CwPairs){cw_new(n_old + 1, sizeof(size_t)), cw_new(n_new + 1, sizeof(size_t)),
                     cw_new(n_new + 1, sizeof(bool)), n_old, n_new};
  if (!pairs->new_of || !pairs->old_of || !pairs->moved) {
    cw_pairs_free(pairs);
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n_old; i++) {
    pairs->new_of[i] = CW_NONE;
  }
  for (size_t k = 0; k < n_new; k++) {
    pairs->old_of[k] = CW_NONE;
  }
  CwStatus status = cw_pair_in_order((CwStretch){before, after, 0, n_old, 0, n_new}, SAME_LIKENESS, pair, pairs);
  if (status == CW_OK) {
    status = pair_moved(before, after, pairs);
  }
  if (status == CW_OK) {
    status = pair_little_alike(before, after, pairs);
  }
  if (status != CW_OK) {
    cw_pairs_free(pairs);
  }
  return status;
}

/// Which of two versions is taken for the older one while pairing, so that pairs are the same both ways.
static bool is_first(const CwGist *before, size_t n_old, const CwGist *after, size_t n_new)
{
  for (size_t i = 0; i < n_old && i < n_new; i++) {
    if (before[i].whole != after[i].whole) {
      return before[i].whole < after[i].whole;
    }
  }
  return n_old <= n_new;
}

CwStatus cw_pairs_make(const CwGist *before, size_t n_old, const CwGist *after, size_t n_new, CwPairs *pairs)
{
  if (is_first(before, n_old, after, n_new)) {
    return make_pairs(before, n_old, after, n_new, pairs);
  }
  bool *moved = cw_new(n_new + 1, sizeof *moved);
  CwPairs turned = {0};
  CwStatus status = moved ? make_pairs(after, n_new, before, n_old, &turned) : CW_ERR_NO_MEM;
  *pairs = (CwPairs){0};
  if (status == CW_OK) {
    for (size_t i = 0; i < n_old; i++) {
      if (turned.old_of[i] != CW_NONE) {
        moved[turned.old_of[i]] = turned.moved[i];
      }
    }
    *pairs = (CwPairs){turned.old_of, turned.new_of, moved, n_old, n_new};
    free(turned.moved);
  } else {
    free(moved);
  }
  return status;
}

void cw_pairs_free(CwPairs *pairs)
{
  free(pairs->new_of);
  free(pairs->old_of);
  free(pairs->moved);
  *pairs = (CwPairs){0};
}
