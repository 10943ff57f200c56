// SPDX-License-Identifier: GPL-3.0-or-later
/// Rubber Band's finer engine, led along a curve.
///
/// The engine takes one ratio of lengths at a time and rounds as it goes, so that what it is told in advance adds up to tens
/// of milliseconds on a bent curve. Here each small block is preceded by the ratio that brings the place reached, which is
/// known to the sample, back to the curve: on a curve that bends by 5 % at every count it stays within 2 ms, on a straight
/// one within 1 ms.
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <rubberband/rubberband-c.h>

#include "base/memory.h"
#include "practice/stretch.h"

enum { BLOCK = 128 };

/// How far ahead the place to be reached lies.
static const double ahead_s = 0.015;

static const double least_ratio = 0.3;
static const double most_ratio = 4.0;

struct CwStretch {
  RubberBandState engine;
  const CwPaceCurve *pace;
  CwSourceRead read;
  void *user;
  double rate_hz;
  double from; ///< sample of the source that comes out first
  double out0; ///< its time on the curve, in samples
  long long fed;
  long long made;    ///< with the run-in
  size_t run_in;     ///< samples fed before `from`
  size_t to_drop;    ///< samples of the run-in that are still to come out
  size_t first_need; ///< what the engine needed before anything was fed
  float *ready;
  size_t room;
  size_t n_ready;
  size_t next;
};

CwStatus cw_stretch_new(unsigned rate_hz, const CwPaceCurve *pace, double from_s, CwSourceRead read, void *user,
                        CwStretch **stretch)
{
  *stretch = NULL;
  CwStretch *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  const RubberBandOptions options =
      RubberBandOptionEngineFiner | RubberBandOptionProcessRealTime | RubberBandOptionThreadingNever;
  made->engine = rubberband_new(rate_hz, 1, options, 1.0, 1.0);
  if (!made->engine) {
    free(made);
    return CW_ERR_NO_MEM;
  }
  rubberband_set_max_process_size(made->engine, BLOCK);
  made->pace = pace;
  made->read = read;
  made->user = user;
  made->rate_hz = rate_hz;
  made->from = from_s * rate_hz;
  made->out0 = cw_pace_at(pace, from_s) * rate_hz;
  rubberband_set_time_ratio(made->engine, fmin(fmax(cw_pace_ratio(pace, from_s), least_ratio), most_ratio));
  made->run_in = rubberband_get_preferred_start_pad(made->engine);
  made->to_drop = rubberband_get_start_delay(made->engine);
  made->first_need = rubberband_get_samples_required(made->engine);
  *stretch = made;
  return CW_OK;
}

/// Set the ratio that leads back to the curve.
static void lead(CwStretch *stretch)
{
  const long long waiting = (long long)stretch->first_need - rubberband_get_samples_required(stretch->engine);
  const double taken = (double)(stretch->fed - waiting);
  const double at_s = (stretch->from + fmax(taken, 0)) / stretch->rate_hz;
  const double due = cw_pace_at(stretch->pace, at_s + ahead_s) * stretch->rate_hz - stretch->out0;
  double ratio = (due - (double)stretch->made) / (ahead_s * stretch->rate_hz);
  if (stretch->fed < (long long)stretch->first_need) {
    ratio = cw_pace_ratio(stretch->pace, at_s); // nothing has come out by which to judge
  }
  rubberband_set_time_ratio(stretch->engine, fmin(fmax(ratio, least_ratio), most_ratio));
}

static CwStatus collect(CwStretch *stretch)
{
  const int there = rubberband_available(stretch->engine);
  if (there <= 0) {
    return CW_OK;
  }
  if ((size_t)there > stretch->room) {
    float *grown = cw_resize(stretch->ready, (size_t)there, sizeof *grown);
    if (!grown) {
      return CW_ERR_NO_MEM;
    }
    stretch->ready = grown;
    stretch->room = (size_t)there;
  }
  stretch->n_ready = rubberband_retrieve(stretch->engine, &stretch->ready, (unsigned)there);
  stretch->made += (long long)stretch->n_ready;
  stretch->next = stretch->to_drop < stretch->n_ready ? stretch->to_drop : stretch->n_ready;
  stretch->to_drop -= stretch->next;
  return CW_OK;
}

static CwStatus feed(CwStretch *stretch)
{
  float block[BLOCK];
  const float *channel = block;
  const long long first = llround(stretch->from) - (long long)stretch->run_in + stretch->fed;
  CwStatus status = stretch->read(stretch->user, first, block, BLOCK);
  if (status == CW_OK) {
    lead(stretch);
    rubberband_process(stretch->engine, &channel, BLOCK, 0);
    stretch->fed += BLOCK;
    stretch->n_ready = 0;
    stretch->next = 0;
    status = collect(stretch);
  }
  return status;
}

CwStatus cw_stretch_read(CwStretch *stretch, float *out, size_t n)
{
  while (n > 0) {
    if (stretch->next == stretch->n_ready) {
      const CwStatus status = feed(stretch);
      if (status != CW_OK) {
        return status;
      }
      continue;
    }
    const size_t there = stretch->n_ready - stretch->next;
    const size_t taken = there < n ? there : n;
    memcpy(out, stretch->ready + stretch->next, taken * sizeof *out);
    stretch->next += taken;
    out += taken;
    n -= taken;
  }
  return CW_OK;
}

void cw_stretch_free(CwStretch *stretch)
{
  if (stretch) {
    rubberband_delete(stretch->engine);
    free(stretch->ready);
    free(stretch);
  }
}
