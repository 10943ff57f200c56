// SPDX-License-Identifier: GPL-3.0-or-later
/// The decoding's model once more, as plainly as it can be said: no sweeps, no blocks, no scaling, doubles throughout.
/// Every pair of beats is looked at. Slow; what the decoding finds is held against it.
#ifndef CW_TEST_PLAIN_MODEL_H
#define CW_TEST_PLAIN_MODEL_H

#include <stdbool.h>

#include "pulse/activation.h"
#include "pulse/decode.h"
#include "pulse/tempo_grid.h"

enum { PLAIN_LANES = 20 }; ///< places of bars of 2, 3, 4, 5 and 6

/// What is decoded.
typedef struct {
  const CwActivation *activation;
  CwModel model;
  CwTempoGrid grid;
  const CwBeatPin *pin;
  size_t n_pins;
} PlainTask;

PlainTask plain_task(const CwActivation *activation, const CwModel *model, const CwBeatPin *pin, size_t n_pins);

/// Metre (beats in a bar) and place in the bar (from 1) of a lane.
unsigned plain_metre(size_t lane);
unsigned plain_place(size_t lane);

/// Cost of interval `j` after interval `i`.
double plain_change_cost(const PlainTask *task, size_t i, size_t j);
/// Cost of `lane` following `before`, -INFINITY where it cannot follow.
double plain_lane_score(const PlainTask *task, size_t before, size_t lane);
/// What a beat at `t` in `lane` is worth by itself.
double plain_beat_score(const PlainTask *task, size_t t, size_t lane);
/// What the interval `i` that ends at `t` is worth; -INFINITY where it passes over a pin or begins before the recording.
double plain_interval_score(const PlainTask *task, size_t t, size_t i);
/// What a run beginning with `lane` and interval `i` costs.
double plain_enter_score(const PlainTask *task, size_t lane, size_t i);
/// What passing over the pins in frames [from, to) costs.
double plain_quiet_score(const PlainTask *task, size_t from, size_t to);

/// Score of the best path, by dynamic programming over every pair of beats.
double plain_best_score(const PlainTask *task);
/// The same by trying every path. Only for very short activations.
double plain_best_score_of_all(const PlainTask *task);
/// Score of the beats that were found (fails the test where they do not follow the rules).
double plain_score_of(const PlainTask *task, const CwBeats *beats);

/// Probability of a beat at each frame, by log sums over every pair of beats. Release with free().
double *plain_posterior(const PlainTask *task);
/// The same from sums over every path.
double *plain_posterior_of_all(const PlainTask *task);

#endif
