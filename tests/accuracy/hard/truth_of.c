// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/truth_of.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// One more time, for arrays made large enough.
static void put(double *times, size_t *n, double time_s)
{
  times[(*n)++] = time_s;
}

static void find_beats(const CwWritten *written, const CwBeatMap *map, CwHardTruth *truth)
{
  const double beats = written->length / written->beat;
  const double first = -floor(written->pick_up / written->beat + 1e-6);
  truth->beat_s = cw_must_new((size_t)(beats - first) + 1, sizeof *truth->beat_s);
  for (double at = first; at < beats - 1e-6; at += 1)
    put(truth->beat_s, &truth->n_beats, cw_beat_map_time(map, at));
  truth->downbeat_s = cw_must_new(written->n_bars, sizeof *truth->downbeat_s);
  for (size_t i = 0; i < written->n_bars; i++)
    put(truth->downbeat_s, &truth->n_downbeats, cw_beat_map_time(map, written->bar[i].at / written->beat));
}

/// "8*4 10": the counts of each phrase. @return how many counts they are; 0 when the text is wrong or memory ran out.
static size_t read_phrases(const char *text, CwHardTruth *truth)
{
  size_t capacity = 0, sum = 0;
  for (const char *at = text; *at; at += strspn(at, " ")) {
    unsigned counts, repeat = 1;
    int used = 0;
    if (sscanf(at, "%u%n", &counts, &used) != 1 || counts == 0)
      return 0;
    at += used;
    if (sscanf(at, "*%u%n", &repeat, &used) == 1)
      at += used;
    for (; repeat > 0; repeat--) {
      if (!cw_grow(&truth->counts, &capacity, truth->n_phrases, sizeof *truth->counts))
        return 0;
      truth->counts[truth->n_phrases++] = counts;
      sum += counts;
    }
  }
  return sum;
}

static bool is_hold(const CwHardCase *hard, double beat)
{
  for (const CwHold *hold = hard->hold; hold->length_s > 0; hold++)
    if (fabs(hold->at - beat) < 1e-6)
      return true;
  return false;
}

static bool find_counts(const CwHardCase *hard, const CwWritten *written, const CwBeatMap *map, CwHardTruth *truth)
{
  const size_t sum = read_phrases(hard->phrases, truth);
  const double beats = written->length / written->beat;
  if (sum == 0 || fabs((double)sum * hard->beats_per_count - beats) > 1e-6) {
    fprintf(stderr, "%s: %zu counts do not fill %g beats\n", hard->name, sum, beats);
    return false;
  }
  truth->count_s = cw_must_new(sum, sizeof *truth->count_s);
  truth->one_s = cw_must_new(truth->n_phrases, sizeof *truth->one_s);
  truth->hold_after = cw_must_new(truth->n_phrases, sizeof *truth->hold_after);
  for (size_t k = 0; k < truth->n_phrases; k++) {
    truth->one_s[k] = cw_beat_map_time(map, (double)truth->n_counts * hard->beats_per_count);
    for (unsigned i = 0; i < truth->counts[k]; i++)
      put(truth->count_s, &truth->n_counts, cw_beat_map_time(map, (double)truth->n_counts * hard->beats_per_count));
    truth->hold_after[k] = is_hold(hard, (double)truth->n_counts * hard->beats_per_count);
  }
  return true;
}

bool cw_hard_truth(const CwHardCase *hard, const CwWritten *written, const CwBeatMap *map, CwHardTruth *truth)
{
  *truth = (CwHardTruth){0};
  find_beats(written, map, truth);
  if (!find_counts(hard, written, map, truth)) {
    cw_hard_truth_free(truth);
    return false;
  }
  truth->from_s = truth->beat_s[0] - 0.3;
  return true;
}

void cw_hard_truth_free(CwHardTruth *truth)
{
  free(truth->beat_s);
  free(truth->downbeat_s);
  free(truth->count_s);
  free(truth->one_s);
  free(truth->counts);
  free(truth->hold_after);
  *truth = (CwHardTruth){0};
}
