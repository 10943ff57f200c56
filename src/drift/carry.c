// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "align/time_map.h"
#include "base/memory.h"
#include "countwright/drift.h"

/// A phrase of a on its way to b.
typedef struct {
  size_t phrase;               ///< of a
  const CwMapSegment *segment; ///< that holds it
  double start_s, end_s;       ///< in b
} Carried;

/// The segment that holds the most counts of a phrase, where it is more than half of them; the first of equals. A
/// count a little outside is carried with its phrase, as the place of a cut is not known to the frame.
static const CwMapSegment *segment_of(const CwCountLine *a, const CwPhrase *phrase, const CwTimeMap *map)
{
  const CwMapSegment *best = NULL;
  unsigned most = phrase->counts / 2;
  for (size_t s = 0; s < map->n_segments; s++) {
    unsigned held = 0;
    for (unsigned c = 0; c < phrase->counts; c++) {
      held += cw_map_segment_holds(&map->segment[s], a->count_s[phrase->first_count + c]);
    }
    if (held > most) {
      most = held;
      best = &map->segment[s];
    }
  }
  return best;
}

/// Where the last count of a phrase ends in b. Before a hold, and at the end of the music, the map follows the waiting,
/// not the count: there the tempo of the last counts leads.
static double carry_end(const CwCountLine *a, size_t phrase, const CwMapSegment *segment)
{
  enum { SPAN = 4 };
  const CwPhrase *p = &a->phrase[phrase];
  const bool runs_on = phrase + 1 < a->n_phrases && cw_count_line_start(a, phrase + 1) - p->end_s < 1e-3;
  const double *count_s = a->count_s + p->first_count;
  if (runs_on || p->counts < 2) {
    return cw_map_segment_at(segment, p->end_s);
  }
  const unsigned last = p->counts - 1;
  const unsigned first = last > SPAN ? last - SPAN : 0;
  const double last_s = cw_map_segment_at(segment, count_s[last]);
  const double ratio = (last_s - cw_map_segment_at(segment, count_s[first])) / (count_s[last] - count_s[first]);
  return last_s + ratio * (p->end_s - count_s[last]);
}

/// @return false when b lacks the phrase.
static bool carry_phrase(const CwCountLine *a, size_t phrase, const CwTimeMap *map, Carried *carried)
{
  const CwPhrase *p = &a->phrase[phrase];
  const CwMapSegment *segment = segment_of(a, p, map);
  if (!segment) {
    return false;
  }
  const double last_s = cw_map_segment_at(segment, a->count_s[p->first_count + p->counts - 1]);
  *carried = (Carried){phrase, segment, cw_map_segment_at(segment, a->count_s[p->first_count]),
                       fmin(carry_end(a, phrase, segment), map->b_duration_s)};
  return carried->start_s >= 0 && last_s < carried->end_s;
}

static int by_start(const void *left, const void *right)
{
  const Carried *l = left;
  const Carried *r = right;
  return (l->start_s > r->start_s) - (l->start_s < r->start_s);
}

/// How sure a phrase's one is in b: it is to be right in a, and its place in b too.
static double sureness(const CwCountLine *a, const Carried *carried)
{
  const CwPhrase *p = &a->phrase[carried->phrase];
  const double sure = cw_map_segment_sure(carried->segment, a->count_s[p->first_count]);
  return isnan(sure) || p->confidence < 0 ? p->confidence : p->confidence * sure;
}

/// Append one phrase; the next begins at `limit_s`. @return CW_ERR_BAD_ARG when it does not fit.
static CwStatus append(const CwCountLine *a, const Carried *carried, double limit_s, double *room, CwCountLine *b)
{
  const CwPhrase *p = &a->phrase[carried->phrase];
  for (unsigned c = 0; c < p->counts; c++) {
    room[c] = cw_map_segment_at(carried->segment, a->count_s[p->first_count + c]);
  }
  return cw_count_line_add(b, room, p->counts, fmin(carried->end_s, limit_s), sureness(a, carried));
}

static CwStatus append_all(const CwCountLine *a, const Carried *carried, size_t n, CwCountLine *b, size_t *kept)
{
  unsigned longest = 1;
  for (size_t i = 0; i < n; i++) {
    const unsigned counts = a->phrase[carried[i].phrase].counts;
    longest = counts > longest ? counts : longest;
  }
  double *room = cw_new(longest, sizeof *room);
  CwStatus status = room ? CW_OK : CW_ERR_NO_MEM;
  for (size_t i = 0; i < n && !status; i++) {
    const double limit_s = i + 1 < n ? carried[i + 1].start_s : (double)INFINITY;
    status = append(a, &carried[i], limit_s, room, b);
    if (status == CW_ERR_BAD_ARG) { // two segments overlap at a jump: the phrase astride it is left out
      status = CW_OK;
    } else if (!status && kept) {
      kept[carried[i].phrase] = b->n_phrases - 1;
    }
  }
  free(room);
  return status;
}

CwStatus cw_carry(const CwCountLine *a, const CwTimeMap *map, CwCountLine *b, size_t *kept)
{
  cw_count_line_init(b, map->b_duration_s);
  b->metre = a->metre;
  b->beats_per_count = a->beats_per_count;
  Carried *carried = cw_new(a->n_phrases, sizeof *carried);
  if (!carried) {
    return CW_ERR_NO_MEM;
  }
  size_t n = 0;
  for (size_t p = 0; p < a->n_phrases; p++) {
    if (kept) {
      kept[p] = SIZE_MAX;
    }
    n += carry_phrase(a, p, map, &carried[n]);
  }
  // b may play the sections in another order
  qsort(carried, n, sizeof *carried, by_start);
  const CwStatus status = append_all(a, carried, n, b, kept);
  free(carried);
  if (status) {
    cw_count_line_free(b);
  }
  return status;
}
