// SPDX-License-Identifier: GPL-3.0-or-later
#include "taps/settle.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/features.h"

#define NEAR_S 0.07
#define STRAY 0.03      // of taps are nowhere near
#define JUMP_CHANGE 0.4 // size of a change of tempo that is no drift
#define BIN 0.01        // of ln(tempo)
#define OFFBEAT_WEIGHT 0.5F
#define SIGHT_WEIGHT 1.0F
#define LEAST_SHARE 1e-7F // paths less probable than this, beside the best, are dropped
enum { BINS = 400 };

/// The chain.
typedef struct {
  CwTapEvent *event;
  size_t n;
  const CwTapSight *sight;
  const CwTapHabit *habit;
  long step; ///< frames in a place
  size_t width;
  long *first;        ///< by event: place at which its band begins
  float *forward;     ///< by event, place of the event before it and its own: sums up to here
  float *seen;        ///< by event and place
  float *probability; ///< by place, of one event
  float *next;        ///< sums behind, of one pair of bands
  float *behind;
  float change[BINS]; ///< density of a change of ln(tempo), by bin
  float *log_of;      ///< ln of an interval, by its places, in bins
  size_t n_logs;
} Chain;

static double place_s(const Chain *c, long place)
{
  return (double)(place * c->step) / CW_FEATURE_RATE_HZ;
}

static float tap_density(const Chain *c, const CwTapEvent *event, double time_s)
{
  const double off = (event->tap_s - c->habit->delay_s - time_s) / c->habit->spread_s;
  return (float)((1.0 - STRAY) * exp(-0.5 * off * off) / (sqrt(CW_TWO_PI) * c->habit->spread_s) + STRAY);
}

/// What the music says of a beat at a place.
static float sight_at(const Chain *c, const CwTapEvent *event, long place)
{
  float best = -1e9F;
  for (long frame = place * c->step; frame < (place + 1) * c->step; frame++) {
    if (frame >= 0 && (size_t)frame < c->sight->n) {
      best = fmaxf(best, c->sight->beat[frame]);
    }
  }
  if (best < -1e8F) {
    return 1e-6F; // outside the recording
  }
  return expf(event->on_beat ? SIGHT_WEIGHT * best : OFFBEAT_WEIGHT * fmaxf(best, 0.0F));
}

static void see(Chain *c)
{
  for (size_t k = 0; k < c->n; k++) {
    const CwTapEvent *event = &c->event[k];
    float *seen = c->seen + k * c->width;
    for (size_t i = 0; i < c->width; i++) {
      const long place = c->first[k] + (long)i;
      if (!isnan(event->pin_s)) {
        seen[i] = i == c->width / 2 ? 1.0F : 0.0F; // the band is around the pin
      } else {
        seen[i] = sight_at(c, event, place) * (isnan(event->tap_s) ? 1.0F : tap_density(c, event, place_s(c, place)));
      }
    }
  }
}

static void set_changes(Chain *c)
{
  const double change = hypot(c->habit->change, 0.5 * BIN);
  for (size_t i = 0; i < BINS; i++) {
    const double drift = BIN * (double)i / change;
    const double jump = BIN * (double)i / JUMP_CHANGE;
    c->change[i] = (float)((1.0 - c->habit->jump) * exp(-0.5 * drift * drift) / change +
                           c->habit->jump * exp(-0.5 * jump * jump) / JUMP_CHANGE);
  }
  for (size_t i = 1; i < c->n_logs; i++) {
    c->log_of[i] = (float)(log((double)i) / BIN);
  }
}

static void set_bands(Chain *c)
{
  for (size_t k = 0; k < c->n; k++) {
    const CwTapEvent *event = &c->event[k];
    const double middle_s = isnan(event->pin_s) ? event->middle_s : event->pin_s;
    c->first[k] = lround(middle_s * CW_FEATURE_RATE_HZ / (double)c->step) - (long)(c->width / 2);
  }
  long longest = 1;
  for (size_t k = 1; k < c->n; k++) {
    const long most = c->first[k] - c->first[k - 1] + (long)c->width;
    longest = most > longest ? most : longest;
  }
  c->n_logs = (size_t)longest + 1;
}

static CwStatus chain_init(Chain *c)
{
  const size_t pairs = c->width * c->width;
  c->first = cw_new(c->n, sizeof *c->first);
  if (!c->first) {
    return CW_ERR_NO_MEM;
  }
  set_bands(c);
  c->forward = cw_new(c->n * pairs, sizeof *c->forward);
  c->seen = cw_new(c->n * c->width, sizeof *c->seen);
  c->probability = cw_new(c->width, sizeof *c->probability);
  c->next = cw_new(pairs, sizeof *c->next);
  c->behind = cw_new(pairs, sizeof *c->behind);
  c->log_of = cw_new(c->n_logs, sizeof *c->log_of);
  if (!c->forward || !c->seen || !c->probability || !c->next || !c->behind || !c->log_of) {
    return CW_ERR_NO_MEM;
  }
  see(c);
  set_changes(c);
  return CW_OK;
}

static void chain_free(Chain *c)
{
  free(c->first);
  free(c->forward);
  free(c->seen);
  free(c->probability);
  free(c->next);
  free(c->behind);
  free(c->log_of);
}

/// Places from place `a` of event k - 1 to place `b` of event k.
static long interval(const Chain *c, size_t k, size_t a, size_t b)
{
  return c->first[k] + (long)b - c->first[k - 1] - (long)a;
}

static float change_density(const Chain *c, float logs)
{
  const float bin = fabsf(logs) + 0.5F;
  return bin < (float)BINS ? c->change[(size_t)bin] : 0.0F;
}

/// Divide by the sum.
static void norm(float *value, size_t n)
{
  float sum = 0;
  for (size_t i = 0; i < n; i++) {
    sum += value[i];
  }
  for (size_t i = 0; i < n && sum > 0; i++) {
    value[i] /= sum;
  }
}

/// Sums of the first two events: the tempo is about what their middles say.
static void begin(Chain *c)
{
  float *sums = c->forward + c->width * c->width;
  const long about = interval(c, 1, 0, 0);
  for (size_t a = 0; a < c->width; a++) {
    for (size_t b = 0; b < c->width; b++) {
      const long places = interval(c, 1, a, b);
      const float tempo = places > 0 ? c->log_of[places] - (about > 0 ? c->log_of[about] : 0.0F) : (float)BINS;
      // at first any tempo may be, within reason
      const float prior = places > 0 ? (c->event[1].broken ? 1.0F : change_density(c, 0.1F * tempo)) : 0.0F;
      sums[a * c->width + b] = c->seen[a] * c->seen[c->width + b] * prior;
    }
  }
  norm(sums, c->width * c->width);
}

/// What the tempo from places (z, a) to (a, b) is worth, for all z: the ones kept are listed.
typedef struct {
  size_t n;
  float value[256];
  float logs[256];
  size_t which[256];
} Row;

static void list_row(const Chain *c, size_t k, size_t a, const float *sums, float least, Row *row)
{
  row->n = 0;
  for (size_t z = 0; z < c->width; z++) {
    const float value = sums[z * c->width + a];
    const long places = interval(c, k - 1, z, a);
    if (value > least && places > 0) {
      row->value[row->n] = value;
      row->which[row->n] = z;
      row->logs[row->n++] = c->log_of[places];
    }
  }
}

static float largest(const float *value, size_t n)
{
  float most = 0;
  for (size_t i = 0; i < n; i++) {
    most = fmaxf(most, value[i]);
  }
  return most;
}

/// How the beats of an interval and of the one before it compare, in bins.
static float beats_apart(const Chain *c, size_t k)
{
  return (float)(log(c->event[k].beats / c->event[k - 1].beats) / BIN);
}

static void go_forward(Chain *c, size_t k)
{
  const size_t pairs = c->width * c->width;
  const float *before = c->forward + (k - 1) * pairs;
  float *sums = c->forward + k * pairs;
  const float least = LEAST_SHARE * largest(before, pairs);
  const bool free_tempo = c->event[k].broken || c->event[k - 1].broken;
  const float apart = beats_apart(c, k);
  Row row;
  for (size_t a = 0; a < c->width; a++) {
    list_row(c, k, a, before, least, &row);
    for (size_t b = 0; b < c->width; b++) {
      const long places = interval(c, k, a, b);
      const float seen = c->seen[k * c->width + b];
      float sum = 0;
      if (places > 0 && seen > 0) {
        const float logs = c->log_of[places] - apart;
        for (size_t i = 0; i < row.n; i++) {
          sum += row.value[i] * (free_tempo ? 1.0F : change_density(c, logs - row.logs[i]));
        }
        sum *= seen / (free_tempo ? 1.0F : (float)places);
      }
      sums[a * c->width + b] = sum;
    }
  }
  norm(sums, pairs);
}

/// From what the places of events k - 1 and k are worth by all that follows, the same of k - 2 and k - 1.
static void go_back(Chain *c, size_t k)
{
  const size_t pairs = c->width * c->width;
  const bool free_tempo = c->event[k].broken || c->event[k - 1].broken;
  const float apart = beats_apart(c, k);
  const float *before = c->forward + (k - 1) * pairs;
  const float least = LEAST_SHARE * largest(before, pairs);
  Row row;
  memset(c->next, 0, pairs * sizeof *c->next);
  for (size_t a = 0; a < c->width; a++) {
    list_row(c, k, a, before, least, &row);
    for (size_t b = 0; b < c->width; b++) {
      const long places = interval(c, k, a, b);
      const float worth = c->behind[a * c->width + b] * c->seen[k * c->width + b];
      if (places <= 0 || worth <= 0) {
        continue;
      }
      const float logs = c->log_of[places] - apart;
      const float share = free_tempo ? worth : worth / (float)places;
      for (size_t i = 0; i < row.n; i++) {
        c->next[row.which[i] * c->width + a] += share * (free_tempo ? 1.0F : change_density(c, logs - row.logs[i]));
      }
    }
  }
  norm(c->next, pairs);
  float *swapped = c->behind;
  c->behind = c->next;
  c->next = swapped;
}

/// Read off the time of event k from the probabilities of its places.
static void read_off(const Chain *c, size_t k)
{
  CwTapEvent *event = &c->event[k];
  const float *p = c->probability;
  const long near = lround(NEAR_S * CW_FEATURE_RATE_HZ / (double)c->step);
  double mean = 0;
  double square = 0;
  float best = -1;
  for (long i = 0; i < (long)c->width; i++) {
    float sum = 0;
    double middle = 0;
    for (long j = i - near; j <= i + near; j++) {
      if (j >= 0 && j < (long)c->width) {
        sum += p[j];
        middle += (double)p[j] * place_s(c, c->first[k] + j);
      }
    }
    if (sum > best + 1e-6F) {
      best = sum;
      event->time_s = sum > 0 ? middle / (double)sum : place_s(c, c->first[k] + i);
    }
    const double time_s = place_s(c, c->first[k] + i);
    mean += (double)p[i] * time_s;
    square += (double)p[i] * time_s * time_s;
  }
  event->mean_s = mean;
  event->var = fmax(square - mean * mean, 0.0);
  event->sure = fminf(best, 1.0F);
  event->time_s = isnan(event->pin_s) ? event->time_s : event->pin_s;
}

/// Probabilities of the places of event k, or with `earlier` of the one before it.
static void read_probabilities(Chain *c, size_t k, bool earlier)
{
  const float *sums = c->forward + k * c->width * c->width;
  memset(c->probability, 0, c->width * sizeof *c->probability);
  for (size_t a = 0; a < c->width; a++) {
    for (size_t b = 0; b < c->width; b++) {
      c->probability[earlier ? a : b] += sums[a * c->width + b] * c->behind[a * c->width + b];
    }
  }
  norm(c->probability, c->width);
}

static void run(Chain *c)
{
  begin(c);
  for (size_t k = 2; k < c->n; k++) {
    go_forward(c, k);
  }
  for (size_t i = 0; i < c->width * c->width; i++) {
    c->behind[i] = 1.0F;
  }
  for (size_t k = c->n; k-- > 1;) {
    read_probabilities(c, k, false);
    read_off(c, k);
    if (k > 1) {
      go_back(c, k);
    }
  }
  read_probabilities(c, 1, true);
  read_off(c, 0);
}

CwStatus cw_taps_settle(CwTapEvent *event, size_t n, const CwTapSight *sight, const CwTapHabit *habit, size_t step,
                        double reach_s)
{
  Chain c = {.event = event, .n = n, .sight = sight, .habit = habit, .step = (long)step};
  const size_t half = (size_t)lround(reach_s * CW_FEATURE_RATE_HZ / (double)step);
  c.width = half < 100 ? 2 * half + 1 : 201;
  if (n < 2) {
    return CW_OK;
  }
  const CwStatus status = chain_init(&c);
  if (status == CW_OK) {
    run(&c);
  }
  chain_free(&c);
  return status;
}
