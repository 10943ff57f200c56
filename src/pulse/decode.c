// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/decode.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "pulse/lanes.h"
#include "pulse/offbeats.h"
#include "pulse/tempo_grid.h"

#define NEVER (-1e9F)
#define ACCENT_SCALE 1.0F // what the accents of a bar weigh
#define PIN_REWARD 60.0F  // more than any evidence

// The path is settled in blocks; what lies this far ahead no longer changes it.
enum { BLOCK = 60 * CW_FEATURE_RATE_HZ, AHEAD = 25 * CW_FEATURE_RATE_HZ, KEPT = BLOCK + AHEAD };

typedef float Row[CW_LANES];

/// How one frame's states were reached; kept for KEPT frames.
typedef struct {
  uint8_t (*from)[CW_LANES];     ///< by interval and lane of the next beat: index of the interval before this beat
  uint8_t (*metre)[CW_N_METRES]; ///< by interval before this beat: metre of the bar that ends here, by next metre
  uint32_t *begun;               ///< by interval: a bit per lane, set where a run begins at this beat
  float best;                    ///< the best score of a beat at this frame, and its state
  uint8_t best_interval, best_lane;
  bool quiet_entered; ///< the stretch without pulse up to here began after the beat CW_QUIET_FRAMES ago
} Trace;

typedef struct {
  const CwActivation *activation;
  const CwModel *model;
  CwTempoGrid grid;
  size_t n_ring;   ///< frames of `next` that are kept
  Row *next;       ///< by frame % n_ring and interval: best score of a beat there, moved on to the next beat's lane
  Row *value;      ///< by interval: best score of a beat at this frame
  Row *moved;      ///< by interval: `value` moved on to the next lane
  Trace *trace;    ///< by frame % KEPT
  uint8_t *memory; ///< what the traces point into
  float quiet;     ///< score of there being no pulse up to and with the last frame
  float metre_prior[CW_N_METRES];
  const CwBeatPin *pin;
  size_t n_pins, next_pin;
  size_t last_pin; ///< frame after the last pin before this frame, 0 when there was none
} Decoder;

CwModel cw_model_default(void)
{
  return (CwModel){
      .min_bpm = CW_BEATS_MIN_BPM,
      .max_bpm = CW_BEATS_MAX_BPM,
      .likely_bpm = 100.0,
      .tempo_spread = 0.45,
      .tempo_weight = 0.5,
      .change_cost = 10.0,
      .jump_cost = 5.0,
      .metre_cost = 6.0,
      .enter_cost = 8.0,
      .offbeat_weight = 0.5,
      .thirds_weight = 0.5,
      .left_out = CW_CUE_LENGTH, // under notes, syncopated long notes would draw the counts to them
  };
}

CwModel cw_model_for(const CwHeard *heard)
{
  CwModel model = cw_model_default();
  if (heard->n > 0) { // the network has weighed what lies between beats
    model.heard = heard;
    model.offbeat_weight = model.thirds_weight = 0;
  }
  return model;
}

static size_t pin_frame(const CwBeatPin *pin)
{
  return (size_t)lround(fmax(pin->time_s, 0.0) * CW_FEATURE_RATE_HZ);
}

static CwStatus decoder_init(Decoder *d, const CwActivation *activation, const CwModel *model)
{
  memset(d, 0, sizeof *d);
  d->activation = activation;
  d->model = model;
  if (cw_tempo_grid_init(&d->grid, model) != 0 || d->grid.n == 0) {
    return CW_ERR_BAD_ARG;
  }
  const size_t n = d->grid.n;
  const size_t per_frame = n * (CW_LANES + CW_N_METRES);
  d->n_ring = d->grid.frames[n - 1] + 1;
  d->next = cw_new(d->n_ring * n, sizeof *d->next);
  d->value = cw_new(n, sizeof *d->value);
  d->moved = cw_new(n, sizeof *d->moved);
  d->trace = cw_new(KEPT, sizeof *d->trace);
  d->memory = cw_new(KEPT, per_frame + n * sizeof(uint32_t));
  if (!d->next || !d->value || !d->moved || !d->trace || !d->memory) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < d->n_ring * n; i++) {
    for (size_t lane = 0; lane < CW_LANES; lane++) {
      d->next[i][lane] = NEVER;
    }
  }
  uint32_t *begun = (uint32_t *)(void *)d->memory;
  uint8_t *bytes = d->memory + KEPT * n * sizeof *begun;
  for (size_t t = 0; t < KEPT; t++) {
    d->trace[t].begun = begun + t * n;
    d->trace[t].from = (uint8_t(*)[CW_LANES])(bytes + t * per_frame);
    d->trace[t].metre = (uint8_t(*)[CW_N_METRES])(bytes + t * per_frame + n * CW_LANES);
  }
  for (size_t m = 0; m < CW_N_METRES; m++) {
    d->metre_prior[m] = model->metre && model->metre != cw_metre_beats[m] ? NEVER : -cw_metre_rarity[m];
  }
  return CW_OK;
}

static void decoder_free(Decoder *d)
{
  free(d->next);
  free(d->value);
  free(d->moved);
  free(d->trace);
  free(d->memory);
}

/// Score of every state with a beat at frame `t`.
static void arrive(Decoder *d, size_t t, float pinned, bool downbeat_only)
{
  Trace *trace = &d->trace[t % KEPT];
  const float beat = d->activation->beat[t] + pinned;
  const float bar = d->activation->downbeat[t];
  const float half_weight = (float)d->model->offbeat_weight;
  const float thirds_weight = (float)d->model->thirds_weight;
  Row seen;
  Row begin;
  for (size_t lane = 0; lane < CW_LANES; lane++) {
    const bool used = cw_lane_place[lane] == 0 || !downbeat_only;
    seen[lane] = used ? beat + ACCENT_SCALE * cw_lane_accent[lane] * (bar - 0.5F * cw_lane_accent[lane]) : NEVER;
    begin[lane] = used ? d->quiet - (float)d->model->enter_cost + d->metre_prior[cw_lane_metre[lane]] : NEVER;
  }
  trace->best = NEVER;
  for (size_t i = 0; i < d->grid.n; i++) {
    const size_t frames = d->grid.frames[i];
    const bool reaches = t >= frames && t - frames + 1 >= d->last_pin;
    const float *before = reaches ? d->next[(t - frames) % d->n_ring * d->grid.n + i] : NULL;
    const float prior = d->grid.prior[i];
    const float given =
        reaches ? prior + cw_offbeats(d->activation->beat, t, frames, half_weight, thirds_weight) : NEVER;
    unsigned begun = 0;
    for (size_t lane = 0; lane < CW_LANES; lane++) {
      const float gone_on = reaches ? before[lane] + given : NEVER;
      const float entered = begin[lane] + prior;
      begun |= (unsigned)(entered > gone_on) << lane;
      const float score = seen[lane] + fmaxf(entered, gone_on);
      d->value[i][lane] = score;
      if (score > trace->best) {
        trace->best = score;
        trace->best_interval = (uint8_t)i;
        trace->best_lane = (uint8_t)lane;
      }
    }
    trace->begun[i] = begun;
  }
}

/// Move every state on to the lane of its next beat; at a bar line the metre may change.
static void move_on(Decoder *d, Trace *trace)
{
  for (size_t i = 0; i < d->grid.n; i++) {
    const float *value = d->value[i];
    float *moved = d->moved[i];
    for (size_t lane = 1; lane < CW_LANES; lane++) {
      moved[lane] = value[lane - 1];
    }
    for (size_t m = 0; m < CW_N_METRES; m++) {
      float best = NEVER;
      uint8_t which = 0;
      for (size_t from = 0; from < CW_N_METRES; from++) {
        const float last = value[cw_metre_first[from] + cw_metre_beats[from] - 1];
        const float score = last - (from == m ? 0.0F : (float)d->model->metre_cost);
        if (score > best) {
          best = score;
          which = (uint8_t)from;
        }
      }
      moved[cw_metre_first[m]] = best + d->metre_prior[m];
      trace->metre[i][m] = which;
    }
  }
}

/// Take the better of what is there and `candidate` less `cost`, lane by lane.
static void sweep_step(Row best, int32_t *from, const Row candidate, int32_t interval, float cost)
{
  for (size_t lane = 0; lane < CW_LANES; lane++) {
    const float kept = best[lane] - cost;
    const bool better = candidate[lane] > kept;
    best[lane] = better ? candidate[lane] : kept;
    from[lane] = better ? interval : from[lane];
  }
}

/// Spread the scores over all next intervals, by the cost of the change of tempo.
static void change_tempo(Decoder *d, size_t t, Trace *trace)
{
  const size_t n = d->grid.n;
  Row *next = d->next + t % d->n_ring * n;
  Row best;
  Row any;
  int32_t from[CW_LANES] = {0};
  int32_t any_from[CW_LANES] = {0};
  for (size_t lane = 0; lane < CW_LANES; lane++) {
    best[lane] = any[lane] = 2 * NEVER;
  }
  for (size_t i = 0; i < n; i++) {
    sweep_step(any, any_from, d->moved[i], (int32_t)i, 0.0F);
    sweep_step(best, from, d->moved[i], (int32_t)i, d->grid.step[i]);
    memcpy(next[i], best, sizeof best);
    for (size_t lane = 0; lane < CW_LANES; lane++) {
      trace->from[i][lane] = (uint8_t)from[lane];
    }
  }
  for (size_t lane = 0; lane < CW_LANES; lane++) {
    best[lane] = any[lane] - (float)d->model->jump_cost;
    from[lane] = any_from[lane];
  }
  Row jump;
  memcpy(jump, best, sizeof jump);
  for (size_t i = n; i-- > 0;) {
    // the downward sweep; a jump is always at hand
    sweep_step(best, from, d->moved[i], (int32_t)i, i + 1 < n ? d->grid.step[i + 1] : 0.0F);
    for (size_t lane = 0; lane < CW_LANES; lane++) {
      if (jump[lane] > best[lane]) {
        best[lane] = jump[lane];
        from[lane] = any_from[lane];
      }
      if (best[lane] > next[i][lane]) {
        next[i][lane] = best[lane];
        trace->from[i][lane] = (uint8_t)from[lane];
      }
    }
  }
}

static void step_frame(Decoder *d, size_t t)
{
  Trace *trace = &d->trace[t % KEPT];
  while (d->next_pin < d->n_pins && pin_frame(&d->pin[d->next_pin]) < t) {
    d->last_pin = pin_frame(&d->pin[d->next_pin++]) + 1;
  }
  const bool pinned = d->next_pin < d->n_pins && pin_frame(&d->pin[d->next_pin]) == t;
  arrive(d, t, pinned ? PIN_REWARD : 0.0F, pinned && d->pin[d->next_pin].downbeat);
  const float ended = t >= CW_QUIET_FRAMES ? d->trace[(t - CW_QUIET_FRAMES) % KEPT].best : NEVER;
  trace->quiet_entered = ended > d->quiet;
  d->quiet = fmaxf(d->quiet, ended);
  if (pinned) {
    d->quiet -= 2 * PIN_REWARD; // a pin is not passed over in silence
  }
  move_on(d, trace);
  change_tempo(d, t, trace);
}

/// A beat on the path.
typedef struct {
  size_t frame;
  uint8_t interval, lane;
  bool run_start;
} Found;

static Found last_beat(const Decoder *d, size_t frame)
{
  const Trace *trace = &d->trace[frame % KEPT];
  return (Found){frame, trace->best_interval, trace->best_lane, false};
}

/// The beat before the stretch without pulse that lasts up to frame `t` (exclusive). @return false when there is none.
static bool before_quiet(const Decoder *d, size_t t, size_t oldest, Found *at)
{
  while (t > oldest && !d->trace[(t - 1) % KEPT].quiet_entered) {
    t--;
  }
  if (t <= oldest + CW_QUIET_FRAMES) {
    return false;
  }
  *at = last_beat(d, t - 1 - CW_QUIET_FRAMES);
  return true;
}

/// The beat before the one at `at`, which does not begin a run. @return false when it lies before `oldest`.
static bool before_beat(const Decoder *d, size_t oldest, Found *at)
{
  const size_t frames = d->grid.frames[at->interval];
  if (at->frame < oldest + frames) {
    return false;
  }
  const Trace *before = &d->trace[(at->frame - frames) % KEPT];
  const uint8_t interval = before->from[at->interval][at->lane];
  if (cw_lane_place[at->lane] == 0) {
    const uint8_t metre = before->metre[interval][cw_lane_metre[at->lane]];
    at->lane = (uint8_t)(cw_metre_first[metre] + cw_metre_beats[metre] - 1);
  } else {
    at->lane--;
  }
  at->frame -= frames;
  at->interval = interval;
  return true;
}

/// How the best path stands after frame `t` (exclusive): at a beat not long ago, or without pulse.
static bool find_end(const Decoder *d, size_t t, size_t oldest, Found *at)
{
  float best = d->quiet;
  bool in_run = false;
  for (size_t frame = t > CW_QUIET_FRAMES ? t - CW_QUIET_FRAMES : 0; frame < t; frame++) {
    if (d->trace[frame % KEPT].best > best) {
      best = d->trace[frame % KEPT].best;
      *at = last_beat(d, frame);
      in_run = true;
    }
  }
  return in_run || before_quiet(d, t, oldest, at);
}

/// Follow the best path back from frame `t` (exclusive) to `oldest`. @return Number of beats, last first in `found`.
static size_t follow_back(const Decoder *d, size_t t, size_t oldest, Found *found)
{
  size_t n = 0;
  Found at;
  bool more = find_end(d, t, oldest, &at);
  while (more) {
    at.run_start = d->trace[at.frame % KEPT].begun[at.interval] >> at.lane & 1;
    found[n++] = at;
    more = at.run_start ? before_quiet(d, at.frame, oldest, &at) : before_beat(d, oldest, &at);
  }
  return n;
}

static CwStatus append(CwBeats *beats, size_t *capacity, const Found *found)
{
  if (!cw_grow(&beats->beat, capacity, beats->n, sizeof *beats->beat)) {
    return CW_ERR_NO_MEM;
  }
  beats->beat[beats->n++] = (CwBeat){
      .time_s = (double)found->frame / CW_FEATURE_RATE_HZ,
      .position = cw_lane_place[found->lane] + 1U,
      .metre = cw_metre_beats[cw_lane_metre[found->lane]],
      .run_start = found->run_start,
  };
  return CW_OK;
}

/// Settle the path up to frame `until`, with `t` frames decoded, and add its beats from `from` on.
static CwStatus settle(const Decoder *d, size_t t, size_t from, size_t until, CwBeats *beats, size_t *capacity)
{
  const size_t oldest = t > KEPT ? t - KEPT : 0;
  Found *found = cw_new(t - oldest + 2, sizeof *found);
  if (!found) {
    return CW_ERR_NO_MEM;
  }
  size_t n = follow_back(d, t, oldest, found);
  CwStatus status = CW_OK;
  while (n-- > 0 && status == CW_OK) {
    if (found[n].frame >= from && found[n].frame < until) {
      status = append(beats, capacity, &found[n]);
    }
  }
  free(found);
  return status;
}

static CwStatus run(Decoder *d, const CwReport *report, CwBeats *beats)
{
  const size_t n = d->activation->n;
  size_t capacity = 0;
  size_t settled = 0;
  for (size_t t = 0; t < n; t++) {
    step_frame(d, t);
    if (t + 1 == settled + KEPT && t + 1 < n) {
      const CwStatus status = settle(d, t + 1, settled, settled + BLOCK, beats, &capacity);
      if (status != CW_OK) {
        return status;
      }
      settled += BLOCK;
    }
    if (t % 1000 == 0) {
      const CwStatus status = cw_report_progress(report, "finding beats", (double)t / (double)n);
      if (status != CW_OK) {
        return status;
      }
    }
  }
  return settle(d, n, settled, n, beats, &capacity);
}

CwStatus cw_decode(const CwActivation *activation, const CwModel *model, const CwBeatPin *pin, size_t n_pins,
                   const CwReport *report, CwBeats *beats)
{
  Decoder decoder;
  memset(beats, 0, sizeof *beats);
  CwStatus status = decoder_init(&decoder, activation, model);
  if (status == CW_OK) {
    decoder.pin = pin;
    decoder.n_pins = n_pins;
    status = run(&decoder, report, beats);
  }
  decoder_free(&decoder);
  if (status != CW_OK) {
    cw_beats_free(beats);
  }
  return status;
}
