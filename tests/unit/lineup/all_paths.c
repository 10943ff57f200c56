// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/lineup/all_paths.h"

#include <math.h>
#include <stdbool.h>

// the costs of the model, as src/lineup/trellis.c has them
static const double quickest_bpm = 300, slowest_bpm = 14;
static const double change_cost = 12, jump_cost = 6, section_cost = 1;
static const double offbeat_weight = 0.5, inner_weight = 0.6;
static const double lead_cost = 1, unused_cost = 0.5, late_cost = 5, lead_least_s = 0.12, hold_cost = 1,
                    beyond_cost = 2;
static const double end_cost = 8, missing_cost = 0.5;

typedef struct {
  const CwPlan *plan;
  const CwSight *sight;
  const CwBands *bands;
  const size_t *frame;
  size_t n_found;
  size_t n_tempos;
  size_t pins_end; ///< a path must come so far
  double best;
} Paths;

static bool pinned(const Paths *p, size_t i)
{
  return i < p->plan->n && !isnan(p->plan->count[i].pin_s);
}

static double pin_frame(const Paths *p, size_t i)
{
  return fmin(round(p->plan->count[i].pin_s * p->sight->rate_hz), (double)p->sight->n - 1);
}

static bool between_pins(const Paths *p, size_t i)
{
  return pinned(p, i) && pinned(p, i + 1) && !p->plan->count[i + 1].after_hold;
}

static long frames_at(const Paths *p, size_t i, size_t tempo)
{
  const double beat = 60 * p->sight->rate_hz / quickest_bpm * pow(p->bands->tempo_ratio, (double)tempo);
  const long frames = lround(beat * p->plan->count[i].beats);
  return frames > 1 ? frames : 1;
}

static long frames_of(const Paths *p, size_t i, size_t tempo)
{
  return between_pins(p, i) ? lround(pin_frame(p, i + 1) - pin_frame(p, i)) : frames_at(p, i, tempo);
}

static double slack(const Paths *p, long frames)
{
  return 0.5 + (p->bands->tempo_ratio - 1) / 2 * (double)frames;
}

/// What count `i` is worth at `frame` when the count before it lasts `frames`; -INFINITY where it may not be.
static double worth(const Paths *p, size_t i, long frame, long frames)
{
  const CwPlanCount *count = &p->plan->count[i];
  const long place = frame - (long)p->bands->first[i];
  if (place < 0 || place >= (long)p->bands->width || frame >= (long)p->sight->n) {
    return -(double)INFINITY;
  }
  if (p->frame && (i >= p->n_found || frame != (long)p->frame[i])) {
    return -(double)INFINITY;
  }
  if (pinned(p, i)) {
    const double off = fabs((double)frame - pin_frame(p, i));
    return off <= slack(p, frames) ? -off : -(double)INFINITY;
  }
  const double beat = (double)p->sight->beat[frame];
  const double accent = (double)count->accent;
  return count->on_beat ? beat + accent * ((double)p->sight->accent[frame] - accent / 2)
                        : offbeat_weight * fmax(beat, 0);
}

/// What lies within count `i` that ends at `frame`.
static double inner(const Paths *p, size_t i, long frame, long frames)
{
  const CwPlanCount *count = &p->plan->count[i];
  const float *beat = p->sight->beat;
  if (count->beats < 1) {
    return 0;
  }
  if (count->beats < 1.5) {
    const double half = (double)beat[frame - frames / 2];
    const double thirds = ((double)beat[frame - frames / 3] + (double)beat[frame - 2 * frames / 3]) / 2;
    return p->sight->offbeat_weight * fmax(0, fmax(half, thirds));
  }
  double sum = 0;
  for (double into = count->to_beat; into < count->beats - 0.02; into++) {
    sum += (double)beat[frame - (long)((double)frames * (count->beats - into) / count->beats + 1e-6)];
  }
  return inner_weight * sum;
}

static double length_cost(const Paths *p, size_t i, size_t tempo, long frames)
{
  if (between_pins(p, i)) {
    const double off = log(fmax((double)frames, 1) / (double)frames_at(p, i, tempo));
    return fmin(change_cost * fabs(off), jump_cost);
  }
  const double slow = log((double)frames / p->sight->rate_hz / p->bands->likely_s) - p->plan->count[i].ln_stretch;
  const double away = slow / p->bands->spread;
  return away * away / 2;
}

static double change(const Paths *p, size_t i, long tempo_before, size_t tempo)
{
  if (tempo_before < 0) {
    return 0;
  }
  const double steps = fabs((double)tempo - (double)tempo_before) * change_cost * log(p->bands->tempo_ratio);
  const bool is_free = p->plan->count[i].new_section || p->plan->count[i].after_hold;
  return fmin(steps, is_free ? section_cost : jump_cost);
}

static void end_here(Paths *p, size_t i, long frame_after, double score)
{
  const size_t missing = p->plan->n - 1 - i;
  const double *sounding = p->sight->sounding;
  const long n = (long)p->sight->n;
  if ((missing && p->plan->count[i + 1].phrase == p->plan->count[i].phrase) || i + 1 < p->pins_end ||
      (p->frame && i + 1 != p->n_found)) {
    return;
  }
  score -= missing ? end_cost + missing_cost * (double)missing : 0;
  score -= frame_after < n ? unused_cost * (sounding[n] - sounding[frame_after]) : 0;
  score -= beyond_cost * fmax(0, (double)(frame_after - n) / p->sight->rate_hz);
  p->best = fmax(p->best, score);
}

/// Try all ways on from count `i` at `frame`.
static void go_on(Paths *p, size_t i, long frame, long tempo_before, double score)
{
  const CwPlanCount *count = &p->plan->count[i];
  for (size_t tempo = 0; tempo < p->n_tempos; tempo++) {
    const long frames = frames_of(p, i, tempo);
    const double here = score - change(p, i, tempo_before, tempo);
    const double off = (double)frame + count->part * (double)frames - count->part_s * p->sight->rate_hz;
    if (count->part > 0 && !pinned(p, i) && fabs(off) > 2 * slack(p, frames)) {
      continue;
    }
    end_here(p, i, frame + frames, here);
    if (i + 1 == p->plan->n) {
      continue;
    }
    const CwPlanCount *next = count + 1;
    const long longest = next->after_hold ? (long)p->sight->n - frame : 0;
    for (long wait = 0; wait <= longest; wait++) {
      const double on = worth(p, i + 1, frame + frames + wait, frames);
      if (isinf(on)) {
        continue;
      }
      double cost = length_cost(p, i, tempo, frames);
      cost += unused_cost * (p->sight->sounding[frame + wait] - p->sight->sounding[frame]);
      if (next->hold_s > 0) {
        cost += hold_cost * fabs((double)(wait - lround(next->hold_s * p->sight->rate_hz))) / p->sight->rate_hz;
      }
      go_on(p, i + 1, frame + frames + wait, (long)tempo,
            here + on + inner(p, i, frame + frames + wait, frames) - cost);
    }
  }
}

double best_of_all_paths(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const size_t *frame,
                         size_t n_found)
{
  Paths p = {
      .plan = plan, .sight = sight, .bands = bands, .frame = frame, .n_found = n_found, .best = -(double)INFINITY};
  while (quickest_bpm / pow(bands->tempo_ratio, (double)p.n_tempos) >= slowest_bpm - 1e-9) {
    p.n_tempos++;
  }
  for (size_t i = 0; i < plan->n; i++) {
    p.pins_end = pinned(&p, i) || plan->count[i].part > 0 ? i + 1 : p.pins_end;
  }
  for (size_t f = 0; f < sight->n; f++) {
    const double on = worth(&p, 0, (long)f, 0);
    if (!isinf(on)) {
      go_on(&p, 0, (long)f, -1,
            on - lead_cost * sight->sounding[f] - (sight->sounding[f] > lead_least_s ? late_cost : 0));
    }
  }
  return p.best;
}
