// SPDX-License-Identifier: GPL-3.0-or-later
#include "eval/reliability.h"

#include <math.h>

#include "eval/scores.h"

enum { MOST_BEATS_PER_COUNT = 16 };

void cw_eval_reliability_add(CwReliability *reliability, double confidence, bool right)
{
  if (isnan(confidence)) {
    reliability->n_unknown++;
    return;
  }
  const int place = (int)(confidence * CW_N_BINS);
  CwBin *into[] = {&reliability->bin[place < CW_N_BINS ? place : CW_N_BINS - 1], &reliability->all};
  for (int i = 0; i < 2; i++) {
    into[i]->n++;
    into[i]->n_right += right;
    into[i]->confidence += confidence;
  }
}

double cw_eval_calibration_error(const CwReliability *reliability)
{
  double sum = 0;
  for (int i = 0; i < CW_N_BINS; i++) {
    sum += fabs((double)reliability->bin[i].n_right - reliability->bin[i].confidence);
  }
  return reliability->all.n > 0 ? sum / (double)reliability->all.n : (double)NAN;
}

static bool is_near(double a_s, double b_s)
{
  return fabs(a_s - b_s) <= CW_EVAL_WINDOW_S;
}

/// The item of a list next to a time; the list must have one.
static size_t nearest(const CwList *list, double time_s)
{
  size_t low = 0;
  size_t high = list->n;
  while (low < high) { // the first at or after time_s
    const size_t middle = low + (high - low) / 2;
    if (list->item[middle].time_s < time_s) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  const bool before =
      low == list->n || (low > 0 && time_s - list->item[low - 1].time_s <= list->item[low].time_s - time_s);
  return before ? low - 1 : low;
}

/// Beats in the bar that begins at a downbeat; in the last, those of the bar before. 0 when there is no telling.
static size_t bar_length(const CwList *beats, size_t downbeat)
{
  for (size_t i = downbeat + 1; i < beats->n; i++) {
    if (beats->item[i].downbeat) {
      return i - downbeat;
    }
  }
  for (size_t i = downbeat; i-- > 0;) {
    if (beats->item[i].downbeat) {
      return downbeat - i;
    }
  }
  return 0;
}

/// Counts that fall on their beats, when each lasts `beats_per_count` beats from beat `one` on.
static size_t counts_in_place(const CwList *beats, const CwListItem *count, size_t n, size_t one,
                              size_t beats_per_count)
{
  size_t good = 0;
  for (size_t i = 0; i < n && one + i * beats_per_count < beats->n; i++) {
    good += is_near(count[i].time_s, beats->item[one + i * beats_per_count].time_s);
  }
  return good;
}

static bool is_right_by_bars(const CwList *beats, const CwListItem *count, size_t n)
{
  if (beats->n == 0) {
    return false;
  }
  const size_t one = nearest(beats, count[0].time_s);
  if (!beats->item[one].downbeat || !is_near(beats->item[one].time_s, count[0].time_s)) {
    return false;
  }
  const size_t bar = bar_length(beats, one);
  for (size_t each = 1; each <= MOST_BEATS_PER_COUNT; each++) {
    const bool fits = each == 1 || (bar > 0 && (bar % each == 0 || each % bar == 0));
    if (fits && 4 * counts_in_place(beats, count, n, one, each) >= 3 * n) {
      return true;
    }
  }
  return false;
}

static bool is_right_by_number(const CwList *ones, const CwListItem *count)
{
  for (size_t i = 0; i < ones->n; i++) {
    const size_t number = ones->item[i].number > 0 ? ones->item[i].number : i + 1;
    if (number == count->number) {
      return is_near(ones->item[i].time_s, count->time_s);
    }
  }
  return false;
}

void cw_eval_reliability_judge(const CwList *truth, const CwList *counts, CwJudge judge, bool certain,
                               CwReliability *reliability)
{
  for (size_t i = 0, end = 0; i < counts->n; i = end) {
    const CwListItem *one = &counts->item[i];
    while (end < counts->n && counts->item[end].number == one->number) {
      end++;
    }
    if (!certain && one->confidence == 1) {
      continue;
    }
    const bool right =
        judge == CW_JUDGE_BY_BARS ? is_right_by_bars(truth, one, end - i) : is_right_by_number(truth, one);
    cw_eval_reliability_add(reliability, one->confidence, right);
  }
}
