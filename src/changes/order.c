// SPDX-License-Identifier: GPL-3.0-or-later
#include "changes/order.h"

#include <stdlib.h>

#include "base/memory.h"

#define MOST_CELLS 4000000 // of old times new phrases compared one by one
#define PAIR_BONUS 1e-6    // of two ways as likely, the one with more pairs ...
#define SHIFT_COST 1e-9    // ... and with the least change of numbers

/// How a place of the table was come to.
typedef enum { FROM_PAIR, FROM_OLD, FROM_NEW } Step;

/// The table. Row i is for the first i old phrases, column k for the first k new ones.
typedef struct {
  double *row[2];
  unsigned char *step;
  size_t width;
} Table;

static double worth(const CwStretch *s, size_t i, size_t k, double least)
{
  const size_t old_at = s->old_from + i;
  const size_t new_at = s->new_from + k;
  const size_t shift = old_at > new_at ? old_at - new_at : new_at - old_at;
  const double likeness = cw_gist_likeness(&s->before[old_at], &s->after[new_at]);
  return likeness >= least ? likeness + PAIR_BONUS - SHIFT_COST * (double)(shift < 900 ? shift : 900) : -1.0;
}

static void fill(const CwStretch *s, double least, Table *t)
{
  const size_t n_old = s->old_to - s->old_from;
  for (size_t k = 0; k < t->width; k++) {
    t->step[k] = FROM_NEW;
    t->row[0][k] = 0;
  }
  for (size_t i = 1; i <= n_old; i++) {
    const double *before = t->row[(i + 1) % 2];
    double *now = t->row[i % 2];
    unsigned char *step = t->step + i * t->width;
    now[0] = 0;
    step[0] = FROM_OLD;
    for (size_t k = 1; k < t->width; k++) {
      const double pair = worth(s, i - 1, k - 1, least);
      now[k] = before[k] >= now[k - 1] ? before[k] : now[k - 1];
      step[k] = before[k] >= now[k - 1] ? FROM_OLD : FROM_NEW;
      if (pair > 0 && before[k - 1] + pair >= now[k]) {
        now[k] = before[k - 1] + pair;
        step[k] = FROM_PAIR;
      }
    }
  }
}

static CwStatus pair_by_table(const CwStretch *s, double least, CwTellPair tell, void *user)
{
  const size_t n_old = s->old_to - s->old_from;
  const size_t n_new = s->new_to - s->new_from;
  Table t = {{cw_new(n_new + 1, sizeof(double)), cw_new(n_new + 1, sizeof(double))},
             cw_new((n_old + 1) * (n_new + 1), 1),
             n_new + 1};
  const bool good = t.row[0] && t.row[1] && t.step;
  if (good) {
    fill(s, least, &t);
  }
  for (size_t i = n_old, k = n_new; good && i > 0 && k > 0;) {
    const unsigned char step = t.step[i * t.width + k];
    if (step == FROM_PAIR) {
      tell(user, s->old_from + i - 1, s->new_from + k - 1);
    }
    i -= step != FROM_NEW;
    k -= step != FROM_OLD;
  }
  free(t.row[0]);
  free(t.row[1]);
  free(t.step);
  return good ? CW_OK : CW_ERR_NO_MEM;
}

/// A phrase by what it says, and where.
typedef struct {
  uint64_t whole;
  size_t at;
} Place;

static int compare(const void *left, const void *right)
{
  const Place *a = left;
  const Place *b = right;
  return a->whole != b->whole ? (a->whole < b->whole ? -1 : 1) : a->at < b->at ? -1 : a->at > b->at;
}

static Place *sorted_places(const CwGist *gist, size_t from, size_t to)
{
  Place *place = cw_new(to - from + 1, sizeof *place);
  for (size_t i = from; place && i < to; i++) {
    place[i - from] = (Place){gist[i].whole, i};
  }
  if (place) {
    qsort(place, to - from, sizeof *place, compare);
  }
  return place;
}

/// The only place of a phrase in a sorted list; CW_NONE when it has none or several.
static size_t only_place(const Place *place, size_t n, uint64_t whole)
{
  size_t from = 0;
  size_t to = n;
  while (from < to) {
    const size_t middle = from + (to - from) / 2;
    if (place[middle].whole < whole) {
      from = middle + 1;
    } else {
      to = middle;
    }
  }
  const bool once = from < n && place[from].whole == whole && (from + 1 == n || place[from + 1].whole != whole);
  return once ? place[from].at : CW_NONE;
}

/// Part a long stretch at a phrase that is in both just once, as near its middle as can be. Without one, only what is the
/// same at the same place is paired.
static CwStatus part_stretch(CwStretch s, double least, CwTellPair tell, void *user)
{
  const size_t n_old = s.old_to - s.old_from;
  const size_t n_new = s.new_to - s.new_from;
  Place *before = sorted_places(s.before, s.old_from, s.old_to);
  Place *after = sorted_places(s.after, s.new_from, s.new_to);
  size_t old_at = CW_NONE;
  size_t new_at = CW_NONE;
  for (size_t step = 0; before && after && step < n_old && new_at == CW_NONE; step++) {
    const size_t i = s.old_from + (n_old / 2 + (step % 2 ? n_old - (step + 1) / 2 : step / 2)) % n_old;
    const bool once = only_place(before, n_old, s.before[i].whole) == i;
    old_at = i;
    new_at = once ? only_place(after, n_new, s.before[i].whole) : CW_NONE;
  }
  CwStatus status = before && after ? CW_OK : CW_ERR_NO_MEM;
  free(before);
  free(after);
  if (status != CW_OK || new_at == CW_NONE) {
    for (size_t i = 0; status == CW_OK && i < n_old && i < n_new; i++) {
      if (s.before[s.old_from + i].whole == s.after[s.new_from + i].whole) {
        tell(user, s.old_from + i, s.new_from + i);
      }
    }
    return status;
  }
  tell(user, old_at, new_at);
  CwStretch first = s;
  CwStretch second = s;
  first.old_to = old_at;
  first.new_to = new_at;
  second.old_from = old_at + 1;
  second.new_from = new_at + 1;
  status = cw_pair_in_order(first, least, tell, user);
  return status == CW_OK ? cw_pair_in_order(second, least, tell, user) : status;
}

CwStatus cw_pair_in_order(CwStretch s, double least, CwTellPair tell, void *user)
{
  while (s.old_from < s.old_to && s.new_from < s.new_to && s.before[s.old_from].whole == s.after[s.new_from].whole) {
    tell(user, s.old_from++, s.new_from++);
  }
  while (s.old_from < s.old_to && s.new_from < s.new_to &&
         s.before[s.old_to - 1].whole == s.after[s.new_to - 1].whole) {
    tell(user, --s.old_to, --s.new_to);
  }
  const size_t n_old = s.old_to - s.old_from;
  const size_t n_new = s.new_to - s.new_from;
  if (n_old == 0 || n_new == 0) {
    return CW_OK;
  }
  return n_old <= MOST_CELLS / n_new ? pair_by_table(&s, least, tell, user) : part_stretch(s, least, tell, user);
}
