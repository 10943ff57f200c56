// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/tempo.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "accuracy/hard/written.h"
#include "unit/random.h"

enum { STEPS = 48 }; // of a beat: every note of the pieces begins on one
static const double pi = 3.14159265358979323846;

double cw_final_ritardando(double x, double end)
{
  const double q = 3;
  return pow(1 + (pow(end, q) - 1) * x, 1 / q);
}

static double cadence_at(const CwTempo *tempo, double beats, double at)
{
  if (tempo->cadence_beats <= 0)
    return 1;
  double stretch = tempo->cadence_every > 0 ? tempo->cadence_every : beats;
  double left = at >= beats ? 0 : at < 0 ? stretch : stretch - fmod(at, stretch);
  return left >= tempo->cadence_beats ? 1 : cw_final_ritardando(1 - left / tempo->cadence_beats, tempo->cadence);
}

double cw_tempo_at(const CwTempo *tempo, double beats, double at)
{
  double bpm = tempo->bpm;
  if (tempo->end_bpm > 0)
    bpm += (tempo->end_bpm - tempo->bpm) * fmin(fmax(at / beats, 0), 1);
  if (tempo->wave > 0)
    bpm *= 1 + tempo->wave * sin(2 * pi * at / tempo->wave_beats);
  if (tempo->arch > 0) {
    double x = 2 * (at / tempo->arch_beats - floor(at / tempo->arch_beats)) - 1;
    bpm *= 1 - tempo->arch * x * x;
  }
  if (tempo->change > 0 && at >= tempo->change_at)
    bpm *= tempo->change;
  return bpm * cadence_at(tempo, beats, at);
}

/// About normal, of variance 1: the sum of three even numbers, each of variance 1/12.
static double next_deviation(uint64_t *seed)
{
  return 2 * (random_share(seed) + random_share(seed) + random_share(seed) - 1.5);
}

void cw_beat_map_make(const CwTempo *tempo, const CwHold *holds, double from, double beats, double from_s,
                      CwBeatMap *map)
{
  uint64_t seed = 77;
  map->from = from;
  map->n = (size_t)lround((beats - from) * STEPS) + 1;
  map->time_s = cw_must_new(map->n, sizeof *map->time_s);
  double time_s = from_s, stretch = 1, stray = 0;
  for (size_t i = 0; i < map->n; i++) {
    const double at = from + (double)i / STEPS;
    for (const CwHold *hold = holds; hold->length_s > 0; hold++)
      if (fabs(at - hold->at) < 1e-6)
        time_s += hold->length_s;
    map->time_s[i] = time_s;
    if (i % STEPS == 0) {
      stray = 0.7 * stray + 0.7 * tempo->wander * next_deviation(&seed);
      stretch = exp(stray + tempo->looseness * next_deviation(&seed));
    }
    time_s += stretch * 60 / cw_tempo_at(tempo, beats, at + 0.5 / STEPS) / STEPS;
  }
}

static size_t step_of(const CwBeatMap *map, double at)
{
  double step = round((at - map->from) * STEPS);
  return (size_t)fmin(fmax(step, 0), (double)(map->n - 1));
}

double cw_beat_map_time(const CwBeatMap *map, double at)
{
  return map->time_s[step_of(map, at)];
}

double cw_beat_map_end(const CwBeatMap *map, double at)
{
  size_t step = step_of(map, at);
  if (step < 2)
    return map->time_s[step];
  return 2 * map->time_s[step - 1] - map->time_s[step - 2];
}

void cw_beat_map_free(CwBeatMap *map)
{
  free(map->time_s);
  *map = (CwBeatMap){0};
}
