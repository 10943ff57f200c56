// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/format.h"
#include "base/memory.h"
#include "drift/words.h"

/// Sentences about tempo, at most; the table has the rest.
enum { MOST_STRETCHES = 5 };
/// Up to so many recordings, each has its largest difference told.
enum { EACH_TOLD = 6 };

static const double clear_percent = 5.0;

/// From so much on it is worth saying that notes are heard late, or tuned otherwise.
static const double heard_late_s = 0.02;
static const double heard_cents = 10.0;

/// Phrases in a row that differ in the same way.
typedef struct {
  const CwDriftOther *other;
  size_t first, last;
  double percent; ///< over the whole stretch
} Stretch;

static int way(const CwDriftRow *row)
{
  if (!row->present || fabs(row->percent) < CW_JUST_NOTICEABLE_PERCENT) {
    return 0;
  }
  return row->percent > 0 ? 1 : -1;
}

/// As a phrase's percent, over several: by the seconds their counts last.
static double percent_over(const CwDrift *drift, size_t first, size_t last)
{
  double a_s = 0;
  double b_s = 0;
  for (size_t i = first; i <= last; i++) {
    a_s += drift->row[i].counts / drift->row[i].a_counts_per_min;
    b_s += drift->row[i].counts / drift->row[i].b_counts_per_min;
  }
  return 100.0 * (a_s / b_s - 1.0);
}

/// Whether a heading begins with row `i` and the tempo differs otherwise under it than under the one before.
static bool section_parts(const CwDriftTable *table, const CwDrift *drift, size_t first, size_t i)
{
  if (!table->section || table->section[i] == table->section[i - 1]) {
    return false;
  }
  size_t last = i;
  while (last + 1 < drift->n && table->section[last + 1] == table->section[i] &&
         way(&drift->row[last + 1]) == way(&drift->row[i])) {
    last++;
  }
  return fabs(percent_over(drift, i, last) - percent_over(drift, first, i - 1)) >= CW_JUST_NOTICEABLE_PERCENT;
}

static size_t find_stretches(const CwDriftTable *table, const CwDriftOther *other, Stretch *stretch)
{
  const CwDrift *drift = &other->drift;
  size_t n = 0;
  for (size_t i = 0; i < drift->n; i++) {
    const int which = way(&drift->row[i]);
    if (which == 0) {
      continue;
    }
    const size_t first = i;
    while (i + 1 < drift->n && way(&drift->row[i + 1]) == which && !section_parts(table, drift, first, i + 1)) {
      i++;
    }
    stretch[n++] = (Stretch){other, first, i, percent_over(drift, first, i)};
  }
  return n;
}

static int by_difference(const void *left, const void *right)
{
  const Stretch *l = left;
  const Stretch *r = right;
  const double more = fabs(r->percent) - fabs(l->percent);
  if (more != 0) {
    return more > 0 ? 1 : -1;
  }
  if (l->first != r->first) {
    return l->first > r->first ? 1 : -1;
  }
  return (l->other > r->other) - (l->other < r->other);
}

static void format_percent(double percent, char out[32])
{
  cw_format_fixed(out, 32, fabs(percent), fabs(percent) < 9.95 ? 1 : 0);
}

/// The phrase of a stretch that differs most.
static const CwDriftRow *extreme(const Stretch *stretch)
{
  const CwDriftRow *row = stretch->other->drift.row;
  size_t most = stretch->first;
  for (size_t i = stretch->first; i <= stretch->last; i++) {
    most = fabs(row[i].percent) > fabs(row[most].percent) ? i : most;
  }
  return &row[most];
}

static CwStatus say_stretch(const CwDriftTable *table, const Stretch *stretch, CwMessages *messages)
{
  char place[CW_WORDS];
  char percent[32];
  char tail[CW_WORDS] = "";
  const bool one = cw_drift_place(table, stretch->first, stretch->last, place);
  const CwDriftRow *most = extreme(stretch);
  if (fabs(most->percent) >= fabs(stretch->percent) + CW_JUST_NOTICEABLE_PERCENT) { // one phrase stands out
    format_percent(most->percent, percent);
    snprintf(tail, sizeof tail, ", most in phrase %u: %s %%", most->number, percent);
  }
  format_percent(stretch->percent, percent);
  const char *how = stretch->percent > 0 ? "faster" : "slower";
  const char *verb = one ? "is" : "are";
  const char *name = cw_drift_other_name(stretch->other);
  if (fabs(stretch->percent) < clear_percent) {
    return cw_messages_add(messages, "%s %s a little %s in %s: %s %%%s", place, verb, how, name, percent, tail);
  }
  return cw_messages_add(messages, "%s %s %s %% %s in %s%s", place, verb, percent, how, name, tail);
}

/// Whether a stretch is its recording's first in the list.
static bool is_first_of_its(const Stretch *stretch, size_t i)
{
  for (size_t k = 0; k < i; k++) {
    if (stretch[k].other == stretch[i].other) {
      return false;
    }
  }
  return true;
}

/// The rows that are there in both.
static size_t count_present(const CwDrift *drift)
{
  size_t n = 0;
  for (size_t i = 0; i < drift->n; i++) {
    n += drift->row[i].present;
  }
  return n;
}

static CwStatus say_tempo(const CwDriftTable *table, CwMessages *messages)
{
  Stretch *stretch = cw_new(table->n * table->other[0].drift.n + 1, sizeof *stretch);
  if (!stretch) {
    return CW_ERR_NO_MEM;
  }
  CwStatus status = CW_OK;
  size_t n = 0;
  for (size_t o = 0; o < table->n && !status; o++) {
    const size_t found = find_stretches(table, &table->other[o], stretch + n);
    n += found;
    if (found == 0 && count_present(&table->other[o].drift) > 0) {
      status =
          cw_messages_add(messages, "the tempo of %s is the same throughout", cw_drift_other_name(&table->other[o]));
    }
  }
  qsort(stretch, n, sizeof *stretch, by_difference);
  for (size_t i = 0; i < n && !status; i++) {
    if (i < MOST_STRETCHES || (table->n <= EACH_TOLD && is_first_of_its(stretch, i))) {
      status = say_stretch(table, &stretch[i], messages);
    }
  }
  free(stretch);
  return status;
}

static CwStatus say_ahead(const CwDriftOther *other, CwMessages *messages)
{
  const CwDriftRow *last = NULL;
  for (size_t i = 0; i < other->drift.n; i++) {
    last = other->drift.row[i].present ? &other->drift.row[i] : last;
  }
  if (!last || fabs(last->ahead_s) < 0.05) {
    return CW_OK;
  }
  char seconds[32];
  cw_format_fixed(seconds, sizeof seconds, fabs(last->ahead_s), 1);
  const bool broken = other->map && other->map->n_segments > 1;
  return cw_messages_add(messages, "at the one of phrase %u %s is %s s %s%s", last->number, cw_drift_other_name(other),
                         seconds, last->ahead_s > 0 ? "ahead" : "behind",
                         broken ? ", with what it leaves out, repeats or waits" : "");
}

/// What is heard otherwise though it is played together.
static CwStatus say_sound(const CwDriftTable *table, const CwDriftOther *other, CwMessages *messages)
{
  const CwTimeMap *map = other->map;
  CwStatus status = CW_OK;
  char number[32];
  if (fabs(map->offset_s) >= heard_late_s) {
    const bool late = map->offset_s > 0;
    cw_format_fixed(number, sizeof number, 1000 * fabs(map->offset_s), 0);
    status = cw_messages_add(messages,
                             "notes come in more slowly in %s: they are heard about %s ms later than they begin, "
                             "compared with %s; the times say when they begin",
                             late ? cw_drift_other_name(other) : cw_drift_first_name(table), number,
                             late ? cw_drift_first_name(table) : cw_drift_other_name(other));
  }
  if (!status && fabs(map->tuning_cents) >= heard_cents) {
    cw_format_fixed(number, sizeof number, fabs(map->tuning_cents), 0);
    status = cw_messages_add(messages, "%s is tuned %s cents %s than %s", cw_drift_other_name(other), number,
                             map->tuning_cents > 0 ? "higher" : "lower", cw_drift_first_name(table));
  }
  return status;
}

CwStatus cw_drift_summary(const CwDriftTable *table, CwMessages *messages)
{
  CwStatus status = say_tempo(table, messages);
  for (size_t o = 0; o < table->n && !status; o++) {
    const CwDriftOther *other = &table->other[o];
    status = say_ahead(other, messages);
    if (!status && other->map) {
      status = cw_drift_say_structure(table, other, messages);
    }
    if (!status && other->map) {
      status = say_sound(table, other, messages);
    }
  }
  return status;
}
