// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/listen.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/expect.h"
#include "lineup/tapped.h"
#include "taps/pace.h"

CwStatus cw_listen(const CwFeatures *features, CwEar *ear, const CwEarHint *hint, double likely_bpm, bool tonal,
                   const CwReport *report, CwModel *model, CwLook *look)
{
  CwHeard heard = {0};
  memset(look, 0, sizeof *look);
  CwStatus status = ear ? cw_ear_listen(ear, hint, report, &heard) : CW_OK;
  if (status == CW_OK) {
    *model = cw_model_for(&heard);
    if (likely_bpm > 0) {
      model->likely_bpm = fmin(fmax(likely_bpm, model->min_bpm), model->max_bpm);
    }
    status = cw_look(features, model, tonal, look);
    model->heard = NULL; // it goes
  }
  cw_heard_free(&heard);
  return status;
}

/// Look again under hints. @param beat_s Mean of them. @param[in,out] look Replaced; empty on error.
static CwStatus look_again(const CwFeatures *features, CwEar *ear, const CwEarHint *hint, double beat_s, bool tonal,
                           const CwReport *report, CwLook *look)
{
  CwModel model;
  cw_look_free(look); // first: of a long recording two would take much memory
  return cw_listen(features, ear, hint, 60.0 / beat_s, tonal, report, &model, look);
}

/// The hint for beats of `beat_s` in a phrase.
static CwEarHint hint_of(const CwNotebook *notebook, size_t phrase, double beat_s)
{
  const unsigned metre = notebook->phrase[phrase].metre;
  return (CwEarHint){(float)beat_s, (unsigned char)(metre < 7 ? metre : 0)};
}

/// Hints at the pace of the notes.
static CwStatus hints_by_plan(const CwNotebook *notebook, CwPlan *plan, const CwSound *sound, size_t rows,
                              CwEarHint *hint)
{
  double *time_s = cw_new(plan->n, sizeof *time_s);
  if (!time_s) {
    return CW_ERR_NO_MEM;
  }
  const double likely_s = cw_likely_count(plan, sound);
  cw_expect_times(plan, sound, time_s);
  cw_expect_stretches(plan, sound, likely_s);
  for (size_t row = 0, i = 0; row < rows; row++) {
    while (i + 1 < plan->n && time_s[i + 1] <= (double)row / CW_HEARD_RATE_HZ) {
      i++;
    }
    const CwPlanCount *count = &plan->count[i];
    const double count_s = likely_s * exp(count->ln_pace + count->ln_stretch);
    hint[row] = hint_of(notebook, count->phrase, count_s / count->beats);
  }
  free(time_s);
  return CW_OK;
}

CwStatus cw_listen_by_plan(const CwFeatures *features, CwEar *ear, const CwNotebook *notebook, CwPlan *plan,
                           const CwSound *sound, bool tonal, const CwReport *report, CwLook *look)
{
  if (!ear || !cw_ear_takes_hints(ear) || plan->n == 0) {
    return CW_OK;
  }
  const size_t rows = cw_ear_rows(ear);
  CwEarHint *hint = cw_new(rows, sizeof *hint);
  CwStatus status = hint ? hints_by_plan(notebook, plan, sound, rows, hint) : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    const double beat_s = cw_likely_count(plan, sound) / plan->count[0].beats;
    status = look_again(features, ear, hint, beat_s, tonal, report, look);
  }
  free(hint);
  return status;
}

CwStatus cw_listen_by_taps(const CwFeatures *features, CwEar *ear, const CwNotebook *notebook, const CwPlan *plan,
                           const double *tap_s, size_t n_taps, CwTapsOn on, bool tonal, const CwReport *report,
                           CwLook *look)
{
  if (!ear || !cw_ear_takes_hints(ear) || plan->n == 0) {
    return CW_OK;
  }
  const size_t rows = cw_ear_rows(ear);
  CwEarHint *hint = cw_new(rows, sizeof *hint);
  if (!hint) {
    return CW_ERR_NO_MEM;
  }
  const double beats = cw_beats_of_a_tap(plan, n_taps, on);
  cw_taps_hint(tap_s, n_taps, beats, notebook->phrase[0].metre, hint, rows);
  const double beat_s = (tap_s[n_taps - 1] - tap_s[0]) / (double)(n_taps - 1) / beats;
  const CwStatus status = look_again(features, ear, hint, beat_s, tonal, report, look);
  free(hint);
  return status;
}
