// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "base/memory.h"
#include "lineup/noted.h"
#include "phrase/counts.h"
#include "pulse/lanes.h"

/// Beats per count; 1 where nobody says.
static double beats_of(const CwNotePhrase *phrase, double override)
{
  if (override > 0) {
    return override;
  }
  return phrase->beats_per_count > 0 ? phrase->beats_per_count : 1.0;
}

/// Keep beats per count to what music has, and say once where they are not.
static CwStatus clamp_beats(double *beats, bool *said, CwMessages *messages)
{
  const double said_beats = *beats;
  *beats = fmin(fmax(said_beats, CW_LEAST_BEATS), CW_MOST_BEATS);
  if (*beats == said_beats || *said) {
    return CW_OK;
  }
  char from[32];
  char to[32];
  *said = true;
  cw_format_fixed(from, sizeof from, said_beats, 2);
  cw_format_fixed(to, sizeof to, *beats, 2);
  return cw_messages_add(messages, "no music has %s beats in a count: %s are taken", from, to);
}

/// Accent of a beat by its place in the bar.
static float accent_at(double beats_into_bar, unsigned metre)
{
  if (metre < 2) {
    return 0.0F;
  }
  if (fabs(beats_into_bar) < 0.01) {
    return CW_ACCENT_FIRST;
  }
  if (metre == 5 && beats_into_bar > 1.5 && beats_into_bar < 3.5) {
    return CW_ACCENT_EITHER;
  }
  const bool middle = (metre == 4 || metre == 6) && fabs(beats_into_bar - metre / 2.0) < 0.01;
  return middle ? CW_ACCENT_MIDDLE : CW_ACCENT_WEAK;
}

static void place_in_bar(double into_bar, unsigned metre, CwPlanCount *count)
{
  const double into_beat = into_bar - floor(into_bar + 0.01);
  count->on_beat = fabs(into_beat) < 0.02;
  count->to_beat = count->on_beat ? 1.0 : 1.0 - into_beat;
  count->accent = count->on_beat ? accent_at(into_bar, metre) : 0.0F;
}

static CwStatus add_counts(const CwNotebook *notebook, double override, CwPlan *plan, CwMessages *messages)
{
  bool said = false;
  double into_bar = 0;
  unsigned metre = 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    const CwNotePhrase *phrase = &notebook->phrase[p];
    const CwNotePhrase *before = p > 0 ? phrase - 1 : NULL;
    double beats = beats_of(phrase, override);
    const CwStatus status = clamp_beats(&beats, &said, messages);
    if (status != CW_OK) {
      return status;
    }
    const bool after_hold = before && before->hold_after;
    if (!before || after_hold || phrase->metre != metre) {
      into_bar = 0; // a bar begins here
    }
    metre = phrase->metre;
    for (unsigned k = 0; k < phrase->counts; k++) {
      CwPlanCount *count = &plan->count[plan->n++];
      *count = (CwPlanCount){.phrase = p, .beats = beats, .pin_s = NAN};
      place_in_bar(into_bar, metre, count);
      count->after_hold = k == 0 && after_hold;
      count->hold_s = count->after_hold && before->hold_s > 0 ? before->hold_s : 0.0;
      count->new_section = k == 0 && before && phrase->section != before->section;
      into_bar = fmod(into_bar + beats + 1e-9, metre >= 2 ? metre : 1.0);
    }
  }
  return CW_OK;
}

CwStatus cw_plan_make(const CwNotebook *notebook, double beats_per_count, CwPlan *plan, CwMessages *messages)
{
  size_t n = 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    n += notebook->phrase[p].counts;
  }
  *plan = (CwPlan){.count = cw_new(n, sizeof *plan->count)};
  if (!plan->count) {
    return CW_ERR_NO_MEM;
  }
  const CwStatus status = add_counts(notebook, beats_per_count, plan, messages);
  if (status != CW_OK) {
    cw_plan_free(plan);
    return status;
  }
  cw_plan_note_tempos(notebook, plan);
  return CW_OK;
}

size_t cw_plan_phrases(const CwPlan *plan)
{
  size_t n = plan->n > 0;
  for (size_t i = 1; i < plan->n; i++) {
    n += plan->count[i].phrase != plan->count[i - 1].phrase;
  }
  return n;
}

bool cw_plan_level_is_given(const CwNotebook *notebook, double beats_per_count)
{
  bool given = beats_per_count > 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    given = given || notebook->phrase[p].beats_per_count > 0;
  }
  return given;
}

void cw_plan_free(CwPlan *plan)
{
  free(plan->count);
  memset(plan, 0, sizeof *plan);
}
