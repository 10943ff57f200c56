// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/listen.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/expect.h"

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

/// The hint for a count that lasts `count_s`.
static CwEarHint hint_of(const CwNotebook *notebook, const CwPlanCount *count, double count_s)
{
  const unsigned metre = notebook->phrase[count->phrase].metre;
  return (CwEarHint){(float)(count_s / count->beats), (unsigned char)(metre < 7 ? metre : 0)};
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
    hint[row] = hint_of(notebook, count, likely_s * exp(count->ln_pace + count->ln_stretch));
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
    CwLook again;
    CwModel model;
    const double beat_s = cw_likely_count(plan, sound) / plan->count[0].beats;
    status = cw_listen(features, ear, hint, 60.0 / beat_s, tonal, report, &model, &again);
    if (status == CW_OK) {
      cw_look_free(look);
      *look = again;
    }
  }
  free(hint);
  return status;
}
