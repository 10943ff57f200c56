// SPDX-License-Identifier: GPL-3.0-or-later
/// The gain that each sample needs, its least over the samples ahead, let up slowly, then averaged over as many: so it is down
/// in time, and moves smoothly. Peaks between samples are estimated at four times the rate (ITU-R BS.1770-4, annex 2).
#include "practice/limiter.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { PHASES = 4, TAPS = 16, HALF = TAPS / 2 };

static const double ahead_s = 0.004;
static const double let_up_s = 0.15;

struct CwLimiter {
  double gain;
  double ceiling;
  double let_up; ///< share of what is missing that comes back with each sample
  float tap[PHASES][TAPS];
  float row[2 * TAPS]; ///< the last samples, twice over, so that they lie one after the other
  size_t row_at;
  size_t ahead;     ///< samples over which gains are averaged
  size_t looked_at; ///< and those over which the least is taken: a little more, as a peak lies between two samples
  float *waiting;   ///< samples on their way, `delay` of them
  size_t delay;
  size_t waiting_at;
  double *need;    ///< rising gains of the samples ahead, a queue in a ring
  size_t *need_at; ///< and their places
  size_t first, held;
  double *mean; ///< the last `ahead` gains
  double sum;
  size_t mean_at;
  double now; ///< gain that is let up
  double least;
  size_t at;
  size_t quiet; ///< samples since the last that could be near the ceiling
};

static void make_taps(CwLimiter *limiter)
{
  const double pi = 3.14159265358979323846;
  for (int phase = 0; phase < PHASES; phase++) {
    double sum = 0;
    for (int i = 0; i < TAPS; i++) {
      const double t = i - HALF + (phase ? (double)phase / PHASES : 1.0); // phase 0 is the sample itself
      const double window = 0.5 + 0.5 * cos(pi * t / (HALF + 0.5));
      const double tap = fabs(t) < 1e-9 ? 1 : sin(pi * t) / (pi * t) * window;
      limiter->tap[phase][i] = (float)tap;
      sum += tap;
    }
    for (int i = 0; i < TAPS; i++) {
      limiter->tap[phase][i] /= (float)sum;
    }
  }
}

CwStatus cw_limiter_new(unsigned rate_hz, double gain, double ceiling, CwLimiter **limiter)
{
  *limiter = NULL;
  CwLimiter *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  *made = (CwLimiter){.gain = gain,
                      .ceiling = ceiling,
                      .let_up = 1 - exp(-1 / (let_up_s * rate_hz)),
                      .ahead = (size_t)(ahead_s * rate_hz) + 1,
                      .now = 1,
                      .least = 1,
                      .quiet = TAPS};
  made->delay = made->ahead + HALF - 1;
  made->looked_at = made->ahead + 2;
  made->waiting = cw_new(made->delay, sizeof *made->waiting);
  made->need = cw_new(made->looked_at + 1, sizeof *made->need);
  made->need_at = cw_new(made->looked_at + 1, sizeof *made->need_at);
  made->mean = cw_new(made->ahead, sizeof *made->mean);
  if (!made->waiting || !made->need || !made->need_at || !made->mean) {
    cw_limiter_free(made);
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < made->ahead; i++) {
    made->mean[i] = 1;
  }
  made->sum = (double)made->ahead;
  make_taps(made);
  *limiter = made;
  return CW_OK;
}

size_t cw_limiter_delay(const CwLimiter *limiter)
{
  return limiter->delay;
}

/// The highest of what lies between two samples in the middle of the recent ones, those included.
static float peak_of(CwLimiter *limiter, float sample)
{
  limiter->row[limiter->row_at] = sample;
  limiter->row[limiter->row_at + TAPS] = sample;
  limiter->row_at = (limiter->row_at + 1) % TAPS;
  limiter->quiet = fabsf(sample) > 0.5F * (float)limiter->ceiling ? 0 : limiter->quiet + 1;
  if (limiter->quiet >= TAPS) {
    return 0; // nothing near is loud enough to reach it
  }
  const float *recent = limiter->row + limiter->row_at;
  float peak = 0;
  for (int phase = 0; phase < PHASES; phase++) {
    float sum = 0;
    for (int i = 0; i < TAPS; i++) {
      sum += recent[i] * limiter->tap[phase][i];
    }
    peak = fmaxf(peak, fabsf(sum));
  }
  return fmaxf(peak, fmaxf(fabsf(recent[HALF - 1]), fabsf(recent[HALF])));
}

/// The least of the last needs, with one more.
static double least_need(CwLimiter *limiter, double need)
{
  const size_t room = limiter->looked_at + 1;
  if (limiter->held > 0 && limiter->need_at[limiter->first] + limiter->looked_at <= limiter->at) {
    limiter->first = (limiter->first + 1) % room;
    limiter->held--;
  }
  while (limiter->held > 0 && limiter->need[(limiter->first + limiter->held - 1) % room] >= need) {
    limiter->held--;
  }
  const size_t last = (limiter->first + limiter->held) % room;
  limiter->need[last] = need;
  limiter->need_at[last] = limiter->at++;
  limiter->held++;
  return limiter->need[limiter->first];
}

static double smooth(CwLimiter *limiter, double least)
{
  const double up = limiter->now + (1 - limiter->now) * limiter->let_up;
  limiter->now = fmin(least, up);
  limiter->sum += limiter->now - limiter->mean[limiter->mean_at];
  limiter->mean[limiter->mean_at] = limiter->now;
  limiter->mean_at = (limiter->mean_at + 1) % limiter->ahead;
  return fmin(1, limiter->sum / (double)limiter->ahead);
}

void cw_limiter_run(CwLimiter *limiter, float *sample, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    const float louder = (float)limiter->gain * sample[i];
    const double peak = (double)peak_of(limiter, louder);
    const double need = peak > limiter->ceiling ? limiter->ceiling / peak : 1;
    const double gain = smooth(limiter, least_need(limiter, need));
    limiter->least = fmin(limiter->least, gain);
    sample[i] = (float)gain * limiter->waiting[limiter->waiting_at];
    limiter->waiting[limiter->waiting_at] = louder;
    limiter->waiting_at = (limiter->waiting_at + 1) % limiter->delay;
  }
}

double cw_limiter_least(const CwLimiter *limiter)
{
  return limiter->least;
}

void cw_limiter_free(CwLimiter *limiter)
{
  if (limiter) {
    free(limiter->waiting);
    free(limiter->need);
    free(limiter->need_at);
    free(limiter->mean);
    free(limiter);
  }
}
