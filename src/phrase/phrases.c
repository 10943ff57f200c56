// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/phrases.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "phrase/boundaries.h"
#include "phrase/counts.h"
#include "phrase/group.h"
#include "phrase/repeats.h"

/// Without notes or pins little tells which of eight counts is the one, and none of it is a strong witness: a phrase is
/// never called more sure than this, so that each asks to be checked by ear.
#define MOST_SURE 0.5

#define REPEAT_WEIGHT 0.7 // of an edge of a repetition, against novelty

#define MOST_COUNTS 999u // of a phrase

/// What is worked out about every count.
typedef struct {
  CwCount *count;
  size_t n;
  double *novelty; ///< and edges of repetitions
  double *edge;
  double *probability; ///< that a phrase begins here
  bool *begins;
  double *time_s;
} Work;

static void work_free(Work *w)
{
  free(w->count);
  free(w->novelty);
  free(w->edge);
  free(w->probability);
  free(w->begins);
  free(w->time_s);
}

static CwStatus work_init(Work *w)
{
  w->novelty = cw_new(w->n, sizeof *w->novelty);
  w->edge = cw_new(w->n, sizeof *w->edge);
  w->probability = cw_new(w->n, sizeof *w->probability);
  w->begins = cw_new(w->n, sizeof *w->begins);
  w->time_s = cw_new(w->n, sizeof *w->time_s);
  if (!w->novelty || !w->edge || !w->probability || !w->begins || !w->time_s) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < w->n; i++) {
    w->time_s[i] = w->count[i].time_s;
  }
  return CW_OK;
}

/// How much each count sounds like the first of a phrase.
static CwStatus listen(const CwFeatures *features, unsigned usual, Work *w)
{
  CwStatus status = cw_boundaries_measure(features, w->count, w->n, w->novelty);
  if (status == CW_OK) {
    status = cw_repeats_measure(features, w->count, w->n, usual, w->edge);
  }
  for (size_t i = 0; i < w->n && status == CW_OK; i++) {
    w->novelty[i] += REPEAT_WEIGHT * w->edge[i];
  }
  return status;
}

/// First count of the run after the one that `begin` is in.
static size_t run_end(const Work *w, size_t begin)
{
  size_t end = begin + 1;
  while (end < w->n && !w->count[end].run_start) {
    end++;
  }
  return end;
}

static CwStatus add_phrases(const Work *w, size_t begin, size_t end, CwCountLine *line)
{
  for (size_t i = begin; i < end;) {
    size_t next = i + 1;
    while (next < end && !w->begins[next]) {
      next++;
    }
    if (w->begins[i]) {
      const double confidence = MOST_SURE * w->probability[i] * (double)w->count[i].confidence;
      const CwStatus status =
          cw_count_line_add(line, w->time_s + i, (unsigned)(next - i), w->count[next - 1].end_s, confidence);
      if (status != CW_OK) {
        return status;
      }
    }
    i = next;
  }
  return CW_OK;
}

static CwStatus group_runs(Work *w, unsigned usual, CwCountLine *line)
{
  CwStatus status = CW_OK;
  for (size_t begin = 0, end = 0; begin < w->n && status == CW_OK; begin = end) {
    end = run_end(w, begin);
    status =
        cw_group(w->count + begin, w->novelty + begin, end - begin, usual, w->begins + begin, w->probability + begin);
    if (status == CW_OK) {
      status = add_phrases(w, begin, end, line);
    }
  }
  return status;
}

CwStatus cw_phrases_find(const CwFeatures *features, const CwBeats *beats, const CwPhraseOptions *options,
                         CwCountLine *line)
{
  const unsigned usual = options && options->counts_per_phrase ? options->counts_per_phrase : CW_USUAL_COUNTS;
  Work work = {0};
  cw_count_line_init(line, features->duration_s);
  if (usual > MOST_COUNTS) {
    return CW_ERR_BAD_ARG;
  }
  line->metre = beats->metre;
  CwStatus status =
      cw_counts_make(beats, options ? options->beats_per_count : 0.0, &work.count, &work.n, &line->beats_per_count);
  if (status == CW_OK) {
    status = work_init(&work);
  }
  if (status == CW_OK) {
    status = listen(features, usual, &work);
  }
  if (status == CW_OK) {
    status = group_runs(&work, usual, line);
  }
  work_free(&work);
  if (status == CW_OK && line->n_phrases == 0) {
    status = CW_ERR_NO_PULSE;
  }
  if (status != CW_OK) {
    cw_count_line_free(line);
  }
  return status;
}
