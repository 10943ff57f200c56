// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/posterior.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "pulse/offbeats.h"
#include "pulse/tempo_grid.h"

// As the decoding: blocks, and how far ahead nothing changes any more.
enum { BLOCK = 60 * CW_FEATURE_RATE_HZ, AHEAD = 25 * CW_FEATURE_RATE_HZ, KEPT = BLOCK + AHEAD };

// Sums are kept as value * exp(scale); beyond LARGE they are scaled down, so that nothing overflows.
#define LARGE 1e12F

typedef struct {
  const CwActivation *activation;
  float offbeat_weight, thirds_weight;
  float enter; ///< weight of a pulse beginning with one given interval
  float jump;  ///< weight of a change to any one interval
  CwTempoGrid grid;
  float decay[CW_MAX_INTERVALS]; ///< weight of the change from the interval before in the grid
  float share[CW_MAX_INTERVALS]; ///< 1 / sum of the weights of all changes from an interval
  float *next;      ///< by frame % KEPT and interval: sums over paths with a beat there, spread over the next interval
  float *alpha;     ///< the same, by the interval before that beat
  double *scale;    ///< by frame % KEPT: scale of alpha
  float *quiet;     ///< of the backward pass, by frame % KEPT: what being without pulse after that frame is worth
  float *behind;    ///< of the backward pass: evidence at a frame times the sums over what follows it
  double now_scale; ///< scale of `next` everywhere
  float quiet_now;
  float *sum; ///< by frame % KEPT: sum of alpha there, kept at the scale of `next`: pulses that may end
} Sums;

static void spread(const Sums *s, const float *in, float *out)
{
  const size_t n = s->grid.n;
  float total = 0;
  float carried = 0;
  float shared[CW_MAX_INTERVALS];
  for (size_t i = 0; i < n; i++) {
    shared[i] = in[i] * s->share[i];
    total += shared[i];
    carried = carried * s->decay[i] + shared[i];
    out[i] = carried;
  }
  carried = 0;
  for (size_t i = n; i-- > 0;) {
    out[i] += carried + total * s->jump;
    carried = (carried + shared[i]) * s->decay[i];
  }
}

/// The same for looking back: from what each next interval is worth to what each interval before it is.
static void gather(const Sums *s, const float *in, float *out)
{
  const size_t n = s->grid.n;
  float total = 0;
  float carried = 0;
  for (size_t i = 0; i < n; i++) {
    total += in[i];
    carried = carried * s->decay[i] + in[i];
    out[i] = carried;
  }
  carried = 0;
  for (size_t i = n; i-- > 0;) {
    out[i] = (out[i] + carried + total * s->jump) * s->share[i];
    carried = (carried + in[i]) * s->decay[i];
  }
}

static void set_weights(Sums *s, const CwModel *model)
{
  float ones[CW_MAX_INTERVALS];
  float sums[CW_MAX_INTERVALS];
  s->offbeat_weight = (float)model->offbeat_weight;
  s->thirds_weight = (float)model->thirds_weight;
  s->jump = (float)exp(-model->jump_cost);
  s->enter = (float)(exp(-model->enter_cost) / (double)s->grid.n);
  for (size_t i = 0; i < s->grid.n; i++) {
    s->decay[i] = expf(-s->grid.step[i]);
    s->share[i] = ones[i] = 1.0F;
  }
  gather(s, ones, sums);
  for (size_t i = 0; i < s->grid.n; i++) {
    s->share[i] = 1.0F / sums[i];
  }
}

static CwStatus sums_init(Sums *s, const CwActivation *activation, const CwModel *model)
{
  memset(s, 0, sizeof *s);
  s->activation = activation;
  s->quiet_now = 1.0F;
  if (cw_tempo_grid_init(&s->grid, model) != 0 || s->grid.n == 0) {
    return CW_ERR_BAD_ARG;
  }
  set_weights(s, model);
  const size_t n = s->grid.n;
  s->next = cw_new(KEPT * n, sizeof *s->next);
  s->alpha = cw_new(KEPT * n, sizeof *s->alpha);
  s->behind = cw_new(KEPT * n, sizeof *s->behind);
  s->scale = cw_new(KEPT, sizeof *s->scale);
  s->quiet = cw_new(KEPT, sizeof *s->quiet);
  s->sum = cw_new(KEPT, sizeof *s->sum);
  return s->next && s->alpha && s->behind && s->scale && s->quiet && s->sum ? CW_OK : CW_ERR_NO_MEM;
}

static void sums_free(Sums *s)
{
  free(s->next);
  free(s->alpha);
  free(s->behind);
  free(s->scale);
  free(s->quiet);
  free(s->sum);
}

static float evidence(const Sums *s, size_t t, size_t i, bool goes_on)
{
  const float *beat = s->activation->beat;
  const float between = goes_on ? cw_offbeats(beat, t, s->grid.frames[i], s->offbeat_weight, s->thirds_weight) : 0.0F;
  return expf(beat[t] + s->grid.prior[i] + between);
}

/// Divide everything that is still read by `by`.
static void scale_down(Sums *s, size_t t, float by)
{
  const size_t n = s->grid.n;
  const size_t longest = s->grid.frames[n - 1];
  for (size_t k = 0; k <= longest && k <= t; k++) {
    float *row = s->next + (t - k) % KEPT * n;
    for (size_t i = 0; i < n; i++) {
      row[i] /= by;
    }
  }
  for (size_t k = 0; k < CW_QUIET_FRAMES && k <= t; k++) {
    s->sum[(t - k) % KEPT] /= by;
  }
  s->quiet_now /= by;
  s->now_scale += log((double)by);
}

static void forward(Sums *s, size_t t)
{
  const size_t n = s->grid.n;
  float *alpha = s->alpha + t % KEPT * n;
  float most = 0;
  float sum = 0;
  const float begin = s->quiet_now * s->enter;
  s->scale[t % KEPT] = s->now_scale;
  for (size_t i = 0; i < n; i++) {
    const size_t frames = s->grid.frames[i];
    alpha[i] = begin * evidence(s, t, i, false);
    if (t >= frames) {
      const float before = s->next[(t - frames) % KEPT * n + i];
      alpha[i] += before > 0 ? before * evidence(s, t, i, true) : 0.0F;
    }
    sum += alpha[i];
    most = fmaxf(most, alpha[i]);
  }
  s->sum[t % KEPT] = sum;
  s->quiet_now += t >= CW_QUIET_FRAMES ? s->sum[(t - CW_QUIET_FRAMES) % KEPT] : 0.0F;
  spread(s, alpha, s->next + t % KEPT * n);
  if (fmaxf(most, s->quiet_now) > LARGE) {
    scale_down(s, t, LARGE);
  }
}

/// What a beat at frame `t` is worth by all that follows it, by the interval before it.
static void look_ahead(const Sums *s, size_t t, size_t end, float *worth)
{
  const size_t n = s->grid.n;
  float coming[CW_MAX_INTERVALS];
  for (size_t i = 0; i < n; i++) {
    const size_t frames = s->grid.frames[i];
    coming[i] = t + frames < end ? s->behind[(t + frames) % KEPT * n + i] : 0.0F;
  }
  gather(s, coming, worth);
  // the pulse may end here; the quiet after it begins a little later, or at the end
  const size_t after = t + CW_QUIET_FRAMES;
  const float ends = after < end ? s->quiet[after % KEPT] : s->quiet[(end - 1) % KEPT];
  for (size_t i = 0; i < n; i++) {
    worth[i] += ends;
  }
}

/// Divide everything of the backward pass that is still read by LARGE.
static void scale_back(Sums *s, size_t t, size_t end)
{
  const size_t n = s->grid.n;
  const size_t longest = s->grid.frames[n - 1];
  for (size_t k = t; k < end && k <= t + longest; k++) {
    for (size_t i = 0; i < n; i++) {
      s->behind[k % KEPT * n + i] /= LARGE;
    }
  }
  for (size_t k = t; k < end; k++) {
    s->quiet[k % KEPT] /= LARGE;
  }
}

/// Log of the sum over all paths up to frame `end`: those now quiet and those whose last beat is not long ago.
static double log_total(const Sums *s, size_t end)
{
  double total = (double)s->quiet_now;
  for (size_t t = end > CW_QUIET_FRAMES ? end - CW_QUIET_FRAMES : 0; t < end; t++) {
    total += (double)s->sum[t % KEPT];
  }
  return log(total) + s->now_scale;
}

/// Backward over the frames from `end` down to `start`, writing probabilities of those before `until`.
static void backward(Sums *s, size_t start, size_t until, size_t end, float *probability)
{
  const size_t n = s->grid.n;
  const double total = log_total(s, end);
  float worth[CW_MAX_INTERVALS];
  double scale = 0;
  float quiet = 1.0F;
  for (size_t t = end; t-- > start;) {
    s->quiet[t % KEPT] = quiet; // what being quiet after frame t is worth
    look_ahead(s, t, end, worth);
    float *behind = s->behind + t % KEPT * n;
    double sum = 0;
    float begin = 0;
    for (size_t i = 0; i < n; i++) {
      behind[i] = t >= s->grid.frames[i] ? worth[i] * evidence(s, t, i, true) : 0.0F;
      begin += worth[i] * s->enter * evidence(s, t, i, false);
      sum += (double)s->alpha[t % KEPT * n + i] * (double)worth[i];
    }
    if (t < until) {
      probability[t] = (float)fmin(1.0, sum * exp(s->scale[t % KEPT] + scale - total));
    }
    quiet += begin;
    if (quiet > LARGE) {
      scale_back(s, t, end);
      quiet /= LARGE;
      scale += log((double)LARGE);
    }
  }
}

CwStatus cw_posterior(const CwActivation *activation, const CwModel *model, float **probability)
{
  Sums sums;
  CwStatus status = sums_init(&sums, activation, model);
  const size_t n = activation->n;
  *probability = status == CW_OK ? cw_new(n, sizeof **probability) : NULL;
  if (status == CW_OK && !*probability) {
    status = CW_ERR_NO_MEM;
  }
  size_t done = 0;
  for (size_t t = 0; t < n && status == CW_OK; t++) {
    forward(&sums, t);
    const bool last = t + 1 == n;
    if (last || t + 1 == done + KEPT) {
      const size_t until = last ? n : done + BLOCK;
      backward(&sums, done, until, t + 1, *probability);
      done = until;
    }
  }
  sums_free(&sums);
  return status;
}
