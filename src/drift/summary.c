// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>

#include "base/format.h"
#include "base/memory.h"
#include "drift/words.h"

/// Sentences about tempo, at most; the table has the rest.
enum { MOST_STRETCHES = 5 };

static const double clear_percent = 5.0;

/// Phrases in a row that differ in the same way.
typedef struct {
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
    a_s += drift->row[i].a_end_s - drift->row[i].a_start_s;
    b_s += drift->row[i].b_end_s - drift->row[i].b_start_s;
  }
  return 100.0 * (a_s / b_s - 1.0);
}

static size_t find_stretches(const CwDrift *drift, Stretch *stretch)
{
  size_t n = 0;
  for (size_t i = 0; i < drift->n; i++) {
    const int which = way(&drift->row[i]);
    if (which == 0) {
      continue;
    }
    const size_t first = i;
    while (i + 1 < drift->n && way(&drift->row[i + 1]) == which) {
      i++;
    }
    stretch[n++] = (Stretch){first, i, percent_over(drift, first, i)};
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
  return (l->first > r->first) - (l->first < r->first);
}

static void format_percent(double percent, char out[32])
{
  cw_format_fixed(out, 32, fabs(percent), fabs(percent) < 9.95 ? 1 : 0);
}

/// The phrase of a stretch that differs most.
static size_t extreme(const CwDrift *drift, const Stretch *stretch)
{
  size_t most = stretch->first;
  for (size_t i = stretch->first; i <= stretch->last; i++) {
    most = fabs(drift->row[i].percent) > fabs(drift->row[most].percent) ? i : most;
  }
  return most;
}

static CwStatus say_stretch(const CwDrift *drift, const Stretch *stretch, CwMessages *messages)
{
  char phrases[CW_WORDS];
  char span[CW_WORDS];
  char percent[32];
  char most_percent[32];
  cw_drift_phrases(drift, stretch->first, stretch->last, phrases);
  cw_drift_span(drift->row[stretch->first].a_start_s, drift->row[stretch->last].a_end_s, span);
  format_percent(stretch->percent, percent);
  const char *little = fabs(stretch->percent) < clear_percent ? "a little " : "";
  const char *how = stretch->percent > 0 ? "faster" : "slower";
  const size_t most = extreme(drift, stretch);
  // worth saying where one phrase stands out
  if (fabs(drift->row[most].percent) < fabs(stretch->percent) + CW_JUST_NOTICEABLE_PERCENT) {
    return cw_messages_add(messages, "the second recording is %s%s in %s (%s): %s %%", little, how, phrases, span,
                           percent);
  }
  format_percent(drift->row[most].percent, most_percent);
  return cw_messages_add(messages, "the second recording is %s%s in %s (%s): %s %%, most in phrase %u: %s %%", little,
                         how, phrases, span, percent, drift->row[most].number, most_percent);
}

static CwStatus say_tempo(const CwDrift *drift, CwMessages *messages)
{
  Stretch *stretch = cw_new(drift->n, sizeof *stretch);
  if (!stretch) {
    return CW_ERR_NO_MEM;
  }
  const size_t n = find_stretches(drift, stretch);
  qsort(stretch, n, sizeof *stretch, by_difference);
  CwStatus status = CW_OK;
  for (size_t i = 0; i < n && i < MOST_STRETCHES && !status; i++) {
    status = say_stretch(drift, &stretch[i], messages);
  }
  free(stretch);
  if (n == 0) {
    status = cw_messages_add(messages, "the tempo is the same throughout");
  }
  return status;
}

static CwStatus say_ahead(const CwDrift *drift, CwMessages *messages)
{
  const CwDriftRow *last = NULL;
  for (size_t i = 0; i < drift->n; i++) {
    last = drift->row[i].present ? &drift->row[i] : last;
  }
  if (!last || fabs(last->ahead_s) < 0.05) {
    return CW_OK;
  }
  char seconds[32];
  cw_format_fixed(seconds, sizeof seconds, fabs(last->ahead_s), 1);
  return cw_messages_add(messages, "at the one of phrase %u the second recording is %s s %s", last->number, seconds,
                         last->ahead_s > 0 ? "ahead" : "behind");
}

CwStatus cw_drift_summary(const CwDrift *drift, const CwTimeMap *map, CwMessages *messages)
{
  CwStatus status = say_tempo(drift, messages);
  if (!status) {
    status = say_ahead(drift, messages);
  }
  if (!status && map) {
    status = cw_drift_say_structure(drift, map, messages);
  }
  return status;
}
