// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/judge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/hard/notes_of.h"
#include "accuracy/hard/reading.h"
#include "accuracy/hard/taps_of.h"
#include "countwright/beats.h"
#include "countwright/lineup.h"
#include "countwright/phrases.h"
#include "eval/scores.h"

const char *const cw_mode_names[CW_N_MODES] = {"alone", "notes", "pins", "taps"};
const char *const cw_measure_names[CW_N_MEASURES] = {"beats", "downbeats", "counts", "ones"};

static double f_of(CwTimes truth, CwTimes found)
{
  return cw_eval_hits(truth, found, CW_EVAL_WINDOW_S).f;
}

/// F of the beats, or of the downbeats alone, from where the truth begins.
static double beat_f(const CwBeats *beats, const CwHardTruth *truth, bool downbeats)
{
  double *found = cw_must_new(beats->n + 1, sizeof *found);
  size_t n = 0;
  for (size_t i = 0; i < beats->n; i++)
    if (beats->beat[i].time_s >= truth->from_s && (!downbeats || beats->beat[i].position == 1))
      found[n++] = beats->beat[i].time_s;
  const CwTimes beat = {truth->beat_s, truth->n_beats}, downbeat = {truth->downbeat_s, truth->n_downbeats};
  const double f = f_of(downbeats ? downbeat : beat, (CwTimes){found, n});
  free(found);
  return f;
}

/// F of the counts from where the truth begins.
static double count_f(const CwCountLine *line, const CwHardTruth *truth)
{
  size_t first = 0;
  while (first < line->n_counts && line->count_s[first] < truth->from_s)
    first++;
  return f_of((CwTimes){truth->count_s, truth->n_counts}, (CwTimes){line->count_s + first, line->n_counts - first});
}

static double ones_f(const CwCountLine *line, const CwHardTruth *truth)
{
  double *found = cw_must_new(line->n_phrases + 1, sizeof *found);
  size_t n = 0;
  for (size_t k = 0; k < line->n_phrases; k++)
    if (cw_count_line_start(line, k) >= truth->from_s)
      found[n++] = cw_count_line_start(line, k);
  const double f = f_of((CwTimes){truth->one_s, truth->n_phrases}, (CwTimes){found, n});
  free(found);
  return f;
}

/// Share of the phrases whose own one is right.
static double own_ones(const CwCountLine *line, const CwHardTruth *truth)
{
  size_t right = 0;
  for (size_t k = 0; k < truth->n_phrases && k < line->n_phrases; k++)
    right += fabs(cw_count_line_start(line, k) - truth->one_s[k]) <= CW_EVAL_WINDOW_S;
  return (double)right / (double)truth->n_phrases;
}

static void judge_alone(const CwHardTruth *truth, const CwFeatures *features, CwVerdict *verdict)
{
  CwBeats beats = {0};
  CwCountLine line = {0};
  CwStatus status = cw_beats_find(features, NULL, NULL, &beats);
  if (status == CW_OK)
    status = cw_phrases_find(features, &beats, NULL, &line);
  verdict->value[CW_BEAT_F] = beat_f(&beats, truth, false);
  verdict->value[CW_DOWNBEAT_F] = beat_f(&beats, truth, true);
  verdict->value[CW_COUNT_F] = count_f(&line, truth);
  verdict->value[CW_ONES] = ones_f(&line, truth);
  if (status == CW_OK)
    cw_reading_alone(&beats, &line, truth, verdict->reading, sizeof verdict->reading);
  else
    snprintf(verdict->reading, sizeof verdict->reading, "failed: %s", cw_strerror(status));
  cw_count_line_free(&line);
  cw_beats_free(&beats);
}

/// @param taps NULL: nobody tapped.
static void judge_lineup(const CwHardTruth *truth, const CwFeatures *features, const char *notes, const CwTaps *taps,
                         CwVerdict *verdict)
{
  const CwLineupOptions options = {.taps = taps, .taps_on = CW_TAPS_ON_COUNTS};
  CwNotebook notebook = {0};
  CwCountLine line = {0};
  CwMessages messages = {0};
  CwStatus status = notes ? cw_notebook_parse(notes, strlen(notes), &notebook) : CW_ERR_NO_MEM;
  if (status == CW_OK)
    status = cw_lineup(features, &notebook, &options, NULL, &line, &messages);
  verdict->value[CW_COUNT_F] = count_f(&line, truth);
  verdict->value[CW_ONES] = own_ones(&line, truth);
  if (status == CW_OK)
    cw_reading_of_ones(&line, truth, verdict->reading, sizeof verdict->reading);
  else
    snprintf(verdict->reading, sizeof verdict->reading, "failed: %s", cw_strerror(status));
  cw_messages_free(&messages);
  cw_count_line_free(&line);
  cw_notebook_free(&notebook);
}

CwVerdict cw_judge(const CwHardCase *hard, const CwHardTruth *truth, const CwFeatures *features, CwMode mode)
{
  CwVerdict verdict = {.value = {NAN, NAN, NAN, NAN}};
  if (mode == CW_ALONE) {
    judge_alone(truth, features, &verdict);
    return verdict;
  }
  char *notes = cw_hard_notes(hard, truth, mode == CW_PINS ? 2 : 0);
  CwTaps taps = cw_hard_taps(truth);
  judge_lineup(truth, features, notes, mode == CW_TAPPED ? &taps : NULL, &verdict);
  cw_taps_free(&taps);
  free(notes);
  return verdict;
}
