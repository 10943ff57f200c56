// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/compare.h"

#include <math.h>

#include "countwright/phrases.h"

#define SAME_TEMPO 1.15 // tempos that differ by less are the same, found anew
#define WIDE_BPM 1.6    // a noted tempo further off than this is of another beat, or not obeyed

static CwStatus level_of(const CwCountLine *line, unsigned metre, CwLevel *level)
{
  double per_min = NAN;
  const CwStatus status = cw_counts_per_min(line, &per_min);
  *level = (CwLevel){metre, line->beats_per_count, 0, 0};
  if (status == CW_OK && !isnan(per_min)) {
    level->counts_per_min = per_min;
    level->beats_per_min = per_min * line->beats_per_count;
  }
  return status;
}

/// Phrases of `line` whose ones are far from every one of the music alone. Both ascend.
static size_t count_moved(const CwCountLine *line, const CwCountLine *alone)
{
  size_t n = 0;
  size_t k = 0;
  for (size_t p = 0; p < line->n_phrases; p++) {
    const double one_s = cw_count_line_start(line, p);
    while (k + 1 < alone->n_phrases &&
           fabs(cw_count_line_start(alone, k + 1) - one_s) <= fabs(cw_count_line_start(alone, k) - one_s)) {
      k++;
    }
    n += fabs(cw_count_line_start(alone, k) - one_s) > CW_MOVED_S;
  }
  return n;
}

CwStatus cw_compare(const CwNotebook *notebook, const CwAlone *alone, const CwCountLine *line, CwEvidence *evidence)
{
  const CwNotedTempo tempo = notebook->phrase[0].tempo;
  const CwStatus status = level_of(line, notebook->head.metre, &evidence->level);
  if (status != CW_OK) {
    return status;
  }
  const double bpm = evidence->level.beats_per_min;
  evidence->known = true;
  evidence->n_ones = line->n_phrases;
  evidence->tempo_low_bpm = tempo.low_bpm;
  evidence->tempo_high_bpm = tempo.high_bpm;
  evidence->tempo_used = tempo.high_bpm > 0 && bpm > tempo.low_bpm / WIDE_BPM && bpm < tempo.high_bpm * WIDE_BPM;
  evidence->alone_known = alone->line.n_phrases > 0;
  if (!evidence->alone_known) {
    return CW_OK;
  }
  evidence->n_moved = count_moved(line, &alone->line);
  return level_of(&alone->line, alone->line.metre, &evidence->alone);
}

static bool differs(double a, double b)
{
  return a > 0 && b > 0 && fmax(a / b, b / a) > SAME_TEMPO;
}

static CwStatus explain_against_alone(const CwEvidence *e, CwMessages *messages)
{
  CwStatus status = CW_OK;
  const bool pulse = differs(e->level.beats_per_min, e->alone.beats_per_min);
  const bool level = !e->level_given && differs(e->level.counts_per_min, e->alone.counts_per_min);
  if (pulse || level) {
    const double found = level ? e->alone.counts_per_min : e->alone.beats_per_min / e->level.beats_per_count;
    status =
        cw_messages_add(messages, "the notes settle the tempo: %.0f counts a minute; the music alone was found at %.0f",
                        e->level.counts_per_min, found);
  }
  if (status == CW_OK && e->level.metre && e->alone.metre && e->level.metre != e->alone.metre) {
    status = cw_messages_add(messages, "bars of %u where the music alone gave %u", e->level.metre, e->alone.metre);
  }
  if (status == CW_OK && e->n_moved > 0) {
    status = cw_messages_add(messages, "%zu of %zu ones moved by more than 70 ms from those of the music alone",
                             e->n_moved, e->n_ones);
  }
  return status;
}

static CwStatus explain_repeats(const CwEvidence *e, CwMessages *messages)
{
  if (e->n_repeats == 0) {
    return CW_OK;
  }
  if (e->n_moved_by_alike > 0) {
    return cw_messages_add(messages, "%zu of %zu repeats have music alike, and %zu counts moved by it", e->n_alike,
                           e->n_repeats, e->n_moved_by_alike);
  }
  return e->n_alike > 0 ? cw_messages_add(messages, "%zu of %zu repeats have music alike", e->n_alike, e->n_repeats)
                        : cw_messages_add(messages, "the repeats do not have the same music");
}

CwStatus cw_evidence_explain(const CwEvidence *e, CwMessages *messages)
{
  CwStatus status = CW_OK;
  if (e->known && e->alone_known) {
    status = explain_against_alone(e, messages);
  }
  if (status == CW_OK && e->known && e->tempo_high_bpm > 0 && !e->tempo_used) {
    status = cw_messages_add(messages, "the notes' tempo, %.0f to %.0f beats a minute, is left aside: %.0f are found",
                             e->tempo_low_bpm, e->tempo_high_bpm, e->level.beats_per_min);
  }
  return status == CW_OK && e->known ? explain_repeats(e, messages) : status;
}
