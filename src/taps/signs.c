// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/signs.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/features.h"

enum { REACH = 12 };       // frames
#define BLUR_FRAMES 5.0    // standard deviation of where a beat is, about where it is thought to be
#define LEAST_LIKELY 0.05F // times as likely as anywhere: nothing speaks more against a beat
#define LEAST_LOG (-10.0F)

/// Mean likelihood of a beat: what is likely is so beside this.
static float mean_likelihood(const CwTapView *view)
{
  double sum = 0;
  for (size_t i = 0; i < view->n; i++) {
    sum += exp((double)fmaxf(view->beat[i], LEAST_LOG));
  }
  return (float)(sum / (double)view->n);
}

/// Blur around each frame.
/// @param likely By frame. @param accent By frame, or NULL.
static void blur(const float *likely, const float *accent, CwTapSigns *signs)
{
  float weight[REACH + 1];
  float all = 0;
  for (int k = 0; k <= REACH; k++) {
    weight[k] = (float)exp(-0.5 * k * k / (BLUR_FRAMES * BLUR_FRAMES));
    all += (k == 0 ? 1.0F : 2.0F) * weight[k];
  }
  for (size_t i = 0; i < signs->n; i++) {
    float sum = 0;
    float accents = 0;
    for (int k = -REACH; k <= REACH; k++) {
      const size_t at = i + (size_t)k; // wraps before the first frame
      const float share = at < signs->n ? weight[abs(k)] * likely[at] : 0.0F;
      sum += share;
      accents += accent && at < signs->n ? share * accent[at] : 0.0F;
    }
    signs->beat[i] = logf(sum / all + LEAST_LIKELY);
    if (accent) {
      signs->accent[i] = sum > 0 ? accents / sum : 0.0F;
    }
  }
}

CwStatus cw_tap_signs_make(const CwTapView *view, CwTapSigns *signs)
{
  *signs = (CwTapSigns){.n = 0};
  if (!view->beat || view->n == 0) {
    return CW_OK;
  }
  float *likely = cw_new(view->n, sizeof *likely);
  signs->beat = cw_new(view->n, sizeof *signs->beat);
  signs->accent = view->accent ? cw_new(view->n, sizeof *signs->accent) : NULL;
  signs->n = view->n;
  if (!likely || !signs->beat || (view->accent && !signs->accent)) {
    free(likely);
    cw_tap_signs_free(signs);
    return CW_ERR_NO_MEM;
  }
  const float mean = mean_likelihood(view);
  for (size_t i = 0; i < view->n; i++) {
    likely[i] = expf(fmaxf(view->beat[i], LEAST_LOG)) / mean;
  }
  blur(likely, view->accent, signs);
  free(likely);
  return CW_OK;
}

double cw_tap_sign_of_beat(const CwTapSigns *signs, double time_s)
{
  const double frame = round(time_s * CW_FEATURE_RATE_HZ);
  if (!signs->beat) {
    return 0.0;
  }
  return frame >= 0 && frame < (double)signs->n ? (double)signs->beat[(size_t)frame] : log((double)LEAST_LIKELY);
}

double cw_tap_sign_of_accent(const CwTapSigns *signs, double time_s)
{
  const double frame = round(time_s * CW_FEATURE_RATE_HZ);
  return signs->accent && frame >= 0 && frame < (double)signs->n ? (double)signs->accent[(size_t)frame] : (double)NAN;
}

void cw_tap_signs_free(CwTapSigns *signs)
{
  free(signs->beat);
  free(signs->accent);
  memset(signs, 0, sizeof *signs);
}
