// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/phrases.h"
#include "countwright/time_text.h"
#include "pulse/lanes.h"

/// Beats per count where the notes do not say: a bar in three is counted in one.
static double beats_of(const CwNotePhrase *phrase, double override)
{
  if (override > 0) {
    return override;
  }
  return phrase->beats_per_count > 0 ? phrase->beats_per_count : 1.0;
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
  const bool middle = (metre == 4 || metre == 6) && fabs(beats_into_bar - metre / 2.0) < 0.01;
  return middle ? CW_ACCENT_MIDDLE : CW_ACCENT_WEAK;
}

static void add_counts(const CwNotebook *notebook, double override, CwPlan *plan)
{
  double into_bar = 0;
  unsigned metre = 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    const CwNotePhrase *phrase = &notebook->phrase[p];
    const CwNotePhrase *before = p > 0 ? phrase - 1 : NULL;
    const double beats = beats_of(phrase, override);
    const bool after_hold = before && before->hold_after;
    if (!before || after_hold || phrase->metre != metre) {
      into_bar = 0; // a bar begins here
    }
    metre = phrase->metre;
    for (unsigned k = 0; k < phrase->counts; k++) {
      CwPlanCount *count = &plan->count[plan->n++];
      count->phrase = p;
      count->beats = beats;
      count->on_beat = fabs(into_bar - floor(into_bar + 0.01)) < 0.02;
      count->accent = count->on_beat ? accent_at(into_bar, metre) : 0.0F;
      count->after_hold = k == 0 && after_hold;
      count->new_section = k == 0 && before && phrase->section != before->section;
      count->pin_s = NAN;
      into_bar = metre >= 2 ? fmod(into_bar + beats + 1e-9, metre) : 0;
    }
  }
}

static void add_pin(CwPlan *plan, size_t first, const CwNotePhrase *phrase, const CwPin *pin)
{
  if (!(pin->count >= 1.0) || pin->count >= phrase->counts + 1.0) {
    return;
  }
  const size_t whole = (size_t)(pin->count + 1e-6);
  const double part = pin->count - (double)whole;
  if (part < 1e-3) {
    plan->count[first + whole - 1].pin_s = pin->time_s;
  } else {
    plan->part_pin[plan->n_part_pins++] = (CwPartPin){first + whole - 1, part, pin->time_s};
  }
}

static void add_pins(const CwNotebook *notebook, CwPlan *plan)
{
  size_t first = 0;
  if (!isnan(notebook->head.first_one_s) && plan->n > 0) {
    plan->count[0].pin_s = notebook->head.first_one_s;
  }
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    const CwNotePhrase *phrase = &notebook->phrase[p];
    for (size_t i = 0; i < phrase->n_pins; i++) {
      add_pin(plan, first, phrase, &phrase->pin[i]);
    }
    first += phrase->counts;
    const bool until = phrase->hold_after && !isnan(phrase->hold_until_s);
    if (until && first < plan->n && isnan(plan->count[first].pin_s)) {
      plan->count[first].pin_s = phrase->hold_until_s; // the hold ends where the next phrase begins
    }
  }
}

/// Leave out whole pins that do not come after the pin before them by what the quickest counts need.
static CwStatus drop_contradictions(CwPlan *plan, CwMessages *messages)
{
  const double quickest_s = 0.1;
  size_t last = CW_NONE;
  for (size_t i = 0; i < plan->n; i++) {
    if (isnan(plan->count[i].pin_s)) {
      continue;
    }
    const double least = last == CW_NONE ? 0.0 : plan->count[last].pin_s + quickest_s * (double)(i - last);
    if (plan->count[i].pin_s >= least) {
      last = i;
      continue;
    }
    char here[24];
    char there[24] = "the beginning";
    cw_format_time(plan->count[i].pin_s, here);
    if (last != CW_NONE) {
      cw_format_time(plan->count[last].pin_s, there);
    }
    plan->count[i].pin_s = NAN;
    const CwStatus status = cw_messages_add(
        messages, "the pin at %s in phrase %zu cannot follow the one at %s in phrase %zu: it is left out", here,
        plan->count[i].phrase + 1, there, last == CW_NONE ? 1 : plan->count[last].phrase + 1);
    if (status != CW_OK) {
      return status;
    }
  }
  return CW_OK;
}

CwStatus cw_plan_make(const CwNotebook *notebook, double beats_per_count, bool with_pins, CwPlan *plan,
                      CwMessages *messages)
{
  size_t n = 0;
  size_t n_pins = 0;
  memset(plan, 0, sizeof *plan);
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    n += notebook->phrase[p].counts;
    n_pins += notebook->phrase[p].n_pins;
  }
  plan->count = cw_new(n, sizeof *plan->count);
  plan->part_pin = cw_new(n_pins, sizeof *plan->part_pin);
  CwStatus status = plan->count && plan->part_pin ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    add_counts(notebook, beats_per_count, plan);
    if (with_pins) {
      add_pins(notebook, plan);
      status = drop_contradictions(plan, messages);
    }
  }
  if (status != CW_OK) {
    cw_plan_free(plan);
  }
  return status;
}

void cw_plan_free(CwPlan *plan)
{
  free(plan->count);
  free(plan->part_pin);
  memset(plan, 0, sizeof *plan);
}
