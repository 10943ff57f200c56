// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/sureness.h"

#include <math.h>
#include <stdlib.h>

#include "align/time_map.h"
#include "base/memory.h"

/// Evidence is gathered in cells of this length, and a place is judged by its own and REACH to either side.
static const double cell_s = 0.5;
enum { REACH = 4 };

/// Displacements looked at: up to half a second to either side, in steps of ten milliseconds.
enum { FAR = 50, STEPS = 2 * FAR + 1, RIGHT = 7 };
static const double step_s = 0.01;

/// Attacks meet when they are this near.
static const double meets_s = 0.03;

/// What a pair of full attacks that meet is worth, in nats; and how probable it is beforehand that a place is right.
static const double worth = 1.5;
static const double right_before = 0.8;

/// Attacks near each other tell the same, so the odds that come of this are too high. The logarithm of the true odds
/// is this much of it and that much less: a logistic regression on 48 pairs by scripts/training/pairs.py.
static const double odds_share = 0.779;
static const double odds_less = 1.353;

/// Add how well one attack of a meets those of b, for each displacement.
static void add_attack(const CwAttack *attack, const CwAlignFeatures *b, int transpose, double wanted_s, double *cell)
{
  const double reach_s = step_s * FAR + meets_s;
  for (size_t k = cw_attacks_from(&b->attacks, wanted_s - reach_s); k < b->attacks.n; k++) {
    const CwAttack *other = &b->attacks.attack[k];
    const double displaced_s = other->time_s - wanted_s;
    if (displaced_s > reach_s) {
      break;
    }
    if (other->semitone - transpose != attack->semitone) {
      continue;
    }
    const double strength = (double)(attack->strength * other->strength);
    const int first = (int)ceil((displaced_s - meets_s) / step_s);
    for (int d = first < -FAR ? -FAR : first; d <= FAR && d * step_s < displaced_s + meets_s; d++) {
      cell[d + FAR] += strength * (1 - fabs(d * step_s - displaced_s) / meets_s);
    }
  }
}

/// The probability that a place is right, by the evidence of the cells about it.
static double judge(const double (*cell)[STEPS], size_t n, size_t i)
{
  double sum[STEPS] = {0};
  double highest = 0;
  for (size_t c = i > REACH ? i - REACH : 0; c <= i + REACH && c < n; c++) {
    for (size_t d = 0; d < STEPS; d++) {
      sum[d] += cell[c][d];
    }
  }
  for (size_t d = 0; d < STEPS; d++) {
    highest = fmax(highest, sum[d]);
  }
  double right = 0;
  double wrong = 0;
  for (int d = -FAR; d <= FAR; d++) {
    const double likelihood = exp(worth * (sum[d + FAR] - highest));
    *(abs(d) <= RIGHT ? &right : &wrong) += likelihood;
  }
  right *= right_before / (2 * RIGHT + 1);
  wrong *= (1 - right_before) / (STEPS - 2 * RIGHT - 1);
  return 1 / (1 + exp(odds_less - odds_share * (log(right) - log(wrong))));
}

CwStatus cw_sureness(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, double late_s,
                     CwMapSegment *segment)
{
  const double start_s = segment->point[0].a_s;
  const double end_s = segment->point[segment->n - 1].a_s;
  const size_t n = (size_t)((end_s - start_s) / cell_s) + 1;
  double(*cell)[STEPS] = cw_new(n, sizeof *cell);
  segment->sure = cw_new(segment->n, sizeof *segment->sure);
  if (!cell || !segment->sure) {
    free(cell);
    return CW_ERR_NO_MEM;
  }
  for (size_t k = cw_attacks_from(&a->attacks, start_s); k < a->attacks.n; k++) {
    const CwAttack *attack = &a->attacks.attack[k];
    if (attack->time_s >= end_s) {
      break;
    }
    const double wanted_s = cw_map_segment_at(segment, attack->time_s) + late_s;
    add_attack(attack, b, transpose, wanted_s, cell[(size_t)((attack->time_s - start_s) / cell_s)]);
  }
  for (size_t i = 0; i < segment->n; i++) {
    const double place = (segment->point[i].a_s - start_s) / cell_s;
    segment->sure[i] = judge((const double(*)[STEPS])cell, n, (size_t)place < n ? (size_t)place : n - 1);
  }
  free(cell);
  return CW_OK;
}

double cw_mean_sureness(const CwTimeMap *map)
{
  double sum = 0;
  size_t n = 0;
  for (size_t s = 0; s < map->n_segments; s++) {
    for (size_t i = 0; i < map->segment[s].n; i++) {
      sum += map->segment[s].sure[i];
    }
    n += map->segment[s].n;
  }
  return n > 0 ? sum / (double)n : (double)NAN;
}
