// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/pins.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/time_text.h"
#include "lineup/pin_marks.h"

#define SAME_S 0.0005       // pins obeyed to the millisecond may be so far off
#define QUICKEST_BEAT_S 0.2 // shortest and longest beat that can be searched for ...
#define SLOWEST_BEAT_S 4.28
#define MARGIN 1.1   // ... and how much inside of that is safe
#define APART_S 0.01 // least time between counts
#define STEEPEST 1e6 // a chain of pins this sensitive to its first count needs no look further on

/// Where counts may be by the pins before them; walks through the plan.
typedef struct {
  CwPlan *plan;
  double low_s, high_s;  ///< where the present count may be
  const CwPinMark *last; ///< last pin that holds; NULL when none does
  CwMessages *messages;
} Walk;

/// What the quickest counts take.
static double least_s(const CwPlanCount *count)
{
  return fmin(0.1, QUICKEST_BEAT_S * count->beats);
}

/// Where a count ends that begins at `time_s`, by the pin within it.
static double after_part(const CwPlanCount *count, double time_s)
{
  return time_s + (count->part_s - time_s) / count->part;
}

/// Where a count begins that ends at `end_s`, by the pin within it.
static double before_part(const CwPlanCount *count, double end_s)
{
  return (count->part_s - count->part * end_s) / (1.0 - count->part);
}

bool cw_plan_is_cut(const CwPlan *plan, size_t i)
{
  return i + 1 == plan->n || plan->count[i + 1].after_hold;
}

size_t cw_pins_end(const CwPlan *plan)
{
  size_t end = plan->n;
  while (end > 0 && isnan(plan->count[end - 1].pin_s) && plan->count[end - 1].part <= 0) {
    end--;
  }
  return end;
}

static bool keep_whole(Walk *w, CwPlanCount *count, const CwPinMark *mark)
{
  if (mark->time_s < w->low_s - SAME_S || mark->time_s > w->high_s + SAME_S) {
    return false;
  }
  count->pin_s = mark->time_s;
  w->low_s = w->high_s = mark->time_s;
  return true;
}

/// Two pins within a count, or one within a pinned count, say where it begins and how long it is.
static bool keep_part(Walk *w, CwPlanCount *count, const CwPinMark *mark)
{
  if (count->part <= 0) {
    const double latest_s = mark->time_s - mark->part * least_s(count);
    if (latest_s < w->low_s) {
      return false;
    }
    w->high_s = fmin(w->high_s, latest_s);
    count->part = mark->part;
    count->part_s = mark->time_s;
    return true;
  }
  if (mark->part - count->part < 1e-6) {
    return fabs(mark->time_s - count->part_s) <= SAME_S;
  }
  const bool known = w->high_s <= w->low_s;
  const double length_s =
      known ? (count->part_s - w->low_s) / count->part : (mark->time_s - count->part_s) / (mark->part - count->part);
  const double begin_s = mark->time_s - mark->part * length_s;
  if (length_s < least_s(count) || begin_s < w->low_s - SAME_S || begin_s > w->high_s + SAME_S) {
    return false;
  }
  if (!known) {
    count->pin_s = begin_s;
    w->low_s = w->high_s = begin_s;
  }
  return true;
}

/// Go on from count `i` to the next.
static void step(Walk *w, size_t i)
{
  const CwPlanCount *count = &w->plan->count[i];
  if (count->part > 0) {
    const double low_s = after_part(count, w->high_s);
    const double high_s = after_part(count, w->low_s);
    w->low_s = low_s;
    w->high_s = cw_plan_is_cut(w->plan, i) ? (double)INFINITY : high_s;
  } else {
    w->low_s += least_s(count);
    w->high_s = INFINITY;
  }
}

/// Name a pin by its time, its phrase and, when it is written in the notes, its line and column.
static void name_mark(const CwPinMark *mark, char out[120])
{
  char time[24];
  cw_format_time(mark->time_s, time);
  const int used = snprintf(out, 120, "%s in phrase %zu", time, mark->phrase + 1);
  if (mark->line > 0) {
    snprintf(out + used, 120 - (size_t)used, " (%zu:%zu)", mark->line, mark->column);
  }
}

static CwStatus say_left_out(const Walk *w, const CwPinMark *mark)
{
  char here[120];
  char there[120];
  name_mark(mark, here);
  if (!w->last) {
    return cw_messages_add(w->messages, "the pin at %s leaves no room for the counts before it: it is left out", here);
  }
  name_mark(w->last, there);
  return cw_messages_add(w->messages, "the pin at %s cannot follow the one at %s: it is left out", here, there);
}

/// Keep the pins that can be true beside those kept before them.
static CwStatus keep_marks(Walk *w, const CwPinMarks *marks)
{
  size_t k = 0;
  for (size_t i = 0; i < w->plan->n; i++) {
    for (; k < marks->n && marks->mark[k].count == i; k++) {
      const CwPinMark *mark = &marks->mark[k];
      CwPlanCount *count = &w->plan->count[i];
      if (mark->part > 0 ? keep_part(w, count, mark) : keep_whole(w, count, mark)) {
        w->last = mark;
        continue;
      }
      const CwStatus status = say_left_out(w, mark);
      if (status != CW_OK) {
        return status;
      }
    }
    step(w, i);
  }
  return CW_OK;
}

/// Counts whose place follows from a pin beside them and one between.
static void derive(CwPlan *plan)
{
  CwPlanCount *count = plan->count;
  for (size_t i = 0; i + 1 < plan->n; i++) {
    if (count[i].part > 0 && !isnan(count[i].pin_s) && isnan(count[i + 1].pin_s) && !cw_plan_is_cut(plan, i)) {
      count[i + 1].pin_s = after_part(&count[i], count[i].pin_s);
    }
  }
  for (size_t i = plan->n; i-- > 1;) {
    if (count[i - 1].part > 0 && !isnan(count[i].pin_s) && isnan(count[i - 1].pin_s) && !cw_plan_is_cut(plan, i - 1)) {
      count[i - 1].pin_s = before_part(&count[i - 1], count[i].pin_s);
    }
  }
}

/// Put the free counts among [begin, end) evenly from `from_s`, where `begin` is, to `to_s`, where `end` is, when their
/// tempo could not be searched for.
static void spread(CwPlan *plan, size_t begin, size_t end, double from_s, double to_s, bool slow_is_odd)
{
  double beats = 0;
  for (size_t i = begin; i < end; i++) {
    beats += plan->count[i].beats;
    if (plan->count[i].part > 0 && isnan(plan->count[i].pin_s)) {
      return;
    }
    slow_is_odd = slow_is_odd && (i == begin || !plan->count[i].after_hold);
  }
  const double beat_s = (to_s - from_s) / beats;
  if (beat_s >= MARGIN * QUICKEST_BEAT_S && !(slow_is_odd && beat_s > SLOWEST_BEAT_S / MARGIN)) {
    return;
  }
  double into = 0;
  for (size_t i = begin; i < end; i++) {
    if (isnan(plan->count[i].pin_s)) {
      plan->count[i].pin_s = from_s + beat_s * into;
      plan->count[i].spread = true;
    }
    into += plan->count[i].beats;
  }
}

static void spread_all(CwPlan *plan, double duration_s)
{
  const size_t pins_end = cw_pins_end(plan);
  size_t left = CW_NONE;
  for (size_t i = 0; i < pins_end; i++) {
    const double pin_s = plan->count[i].pin_s;
    if (isnan(pin_s)) {
      continue;
    }
    if (left != CW_NONE) {
      const bool held = plan->count[i].after_hold;
      spread(plan, left, i, plan->count[left].pin_s, pin_s, !held);
    } else if (i > 0) {
      spread(plan, 0, i, 0.0, pin_s, false);
    }
    left = i;
  }
  if (left == CW_NONE || left + 1 != pins_end) {
    return;
  }
  size_t end = left; // the rest of the last pinned phrase must fit too
  while (end < plan->n && plan->count[end].phrase == plan->count[left].phrase) {
    end++;
  }
  const double least_end_s = plan->count[left].pin_s + 0.05 * (double)(end - left);
  spread(plan, left, end, plan->count[left].pin_s, fmax(duration_s, least_end_s), false);
}

CwStatus cw_pins_set(const CwNotebook *notebook, double duration_s, CwPlan *plan, CwMessages *messages)
{
  CwPinMarks marks;
  CwStatus status = cw_pin_marks_read(notebook, duration_s, &marks, messages);
  if (status != CW_OK) {
    return status;
  }
  Walk walk = {.plan = plan, .low_s = 0.0, .high_s = INFINITY, .messages = messages};
  status = keep_marks(&walk, &marks);
  if (status == CW_OK) {
    derive(plan);
    spread_all(plan, duration_s);
  }
  cw_pin_marks_free(&marks);
  return status;
}

/// A stretch of time.
typedef struct {
  double low_s, high_s;
} Room;

/// Where each count may be by the pins after it.
static void find_room(const CwPlan *plan, Room *room)
{
  for (size_t i = plan->n; i-- > 0;) {
    const CwPlanCount *count = &plan->count[i];
    const bool cut = cw_plan_is_cut(plan, i);
    const double next_low_s = cut ? -(double)INFINITY : room[i + 1].low_s;
    const double next_high_s = i + 1 < plan->n ? room[i + 1].high_s : (double)INFINITY;
    if (!isnan(count->pin_s)) {
      room[i] = (Room){count->pin_s, count->pin_s};
    } else if (count->part > 0) {
      const double latest_s = count->part_s - count->part * APART_S;
      room[i] = (Room){before_part(count, next_high_s), fmin(latest_s, before_part(count, next_low_s))};
    } else {
      room[i] = (Room){-(double)INFINITY, next_high_s - APART_S};
    }
  }
}

/// Where count `i` should begin, so that the counts joined to it by pins between them move least (least squares).
static double best_begin(const CwPlan *plan, size_t i, const double *time_s, const double *end_s)
{
  double offset = 0; // each count lies at offset + slope * where count i begins
  double slope = 1;
  double sum = 0;
  double weight = 0;
  for (bool more = true; more && fabs(slope) < STEEPEST;) {
    sum += slope * (time_s[i] - offset);
    weight += slope * slope;
    const CwPlanCount *count = &plan->count[i];
    more = count->part > 0;
    if (more) {
      offset = after_part(count, offset);
      slope *= (count->part - 1.0) / count->part;
    }
    if (more && cw_plan_is_cut(plan, i)) {
      sum += slope * (end_s[i] - offset);
      weight += slope * slope;
      more = false;
    }
    i++;
  }
  return sum / weight;
}

CwStatus cw_pins_obey(const CwPlan *plan, double *time_s, double *end_s)
{
  Room *room = cw_new(plan->n, sizeof *room);
  if (!room) {
    return CW_ERR_NO_MEM;
  }
  find_room(plan, room);
  double least_time_s = 0;
  for (size_t i = 0; i < plan->n; i++) {
    const CwPlanCount *count = &plan->count[i];
    const bool joined = i > 0 && count[-1].part > 0 && !cw_plan_is_cut(plan, i - 1);
    if (!isnan(count->pin_s)) {
      time_s[i] = count->pin_s;
    } else {
      const double wish_s = joined            ? after_part(count - 1, time_s[i - 1])
                            : count->part > 0 ? best_begin(plan, i, time_s, end_s)
                                              : time_s[i];
      time_s[i] = fmin(fmax(wish_s, fmax(least_time_s, room[i].low_s)), room[i].high_s);
    }
    if (i > 0 && cw_plan_is_cut(plan, i - 1)) {
      end_s[i - 1] = fmin(end_s[i - 1], time_s[i]);
    }
    least_time_s = time_s[i] + APART_S;
    if (cw_plan_is_cut(plan, i)) {
      end_s[i] = count->part > 0 ? after_part(count, time_s[i]) : fmax(end_s[i], time_s[i] + APART_S);
      least_time_s = count->part > 0 ? end_s[i] : least_time_s;
    }
  }
  free(room);
  return CW_OK;
}
