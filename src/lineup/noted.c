// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/noted.h"

#include <math.h>

#define TRUST 0.7      // in how far apart the notes' tempos are: a word means many tempos
#define WIDE 1.35      // players stray so far from the range that a word has, ...
#define OTHER_BEAT 1.9 // ... and further than this, it speaks of another beat

void cw_plan_note_tempos(const CwNotebook *notebook, CwPlan *plan)
{
  double n = 0;
  double sum = 0;
  for (size_t i = 0; i < plan->n; i++) {
    CwPlanCount *count = &plan->count[i];
    const CwNotedTempo tempo = notebook->phrase[count->phrase].tempo;
    count->noted_low_s = count->noted_high_s = count->ln_pace = 0;
    if (tempo.high_bpm > 0) {
      count->noted_low_s = 60.0 * count->beats / tempo.high_bpm;
      count->noted_high_s = 60.0 * count->beats / tempo.low_bpm;
      count->ln_pace = -0.5 * log(tempo.low_bpm * tempo.high_bpm);
      sum += count->ln_pace;
      n++;
    }
  }
  for (size_t i = 0; i < plan->n; i++) {
    const bool noted = plan->count[i].noted_high_s > 0;
    plan->count[i].ln_pace = noted ? TRUST * (plan->count[i].ln_pace - sum / n) : 0.0;
  }
}

double cw_noted_count(const CwPlan *plan, double likely_s)
{
  double n = 0;
  double low = 0;
  double high = 0;
  for (size_t i = 0; i < plan->n; i++) {
    if (plan->count[i].noted_high_s > 0) {
      low += log(plan->count[i].noted_low_s);
      high += log(plan->count[i].noted_high_s);
      n++;
    }
  }
  const double low_s = n > 0 ? exp(low / n) : 0.0;
  const double high_s = n > 0 ? exp(high / n) : 0.0;
  if (n <= 0 || likely_s < low_s / OTHER_BEAT || likely_s > high_s * OTHER_BEAT) {
    return likely_s;
  }
  return fmin(fmax(likely_s, low_s / WIDE), high_s * WIDE);
}
