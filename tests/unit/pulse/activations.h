// SPDX-License-Identifier: GPL-3.0-or-later
/// Activations made up for the tests, and models to decode them with.
#ifndef CW_TEST_ACTIVATIONS_H
#define CW_TEST_ACTIVATIONS_H

#include <stdint.h>

#include "pulse/activation.h"
#include "pulse/decode.h"

/// `n` frames of a random pulse with random accents, from `least` to `most` frames apart, with stretches of nothing.
/// @param clarity How much evidence a beat is at most.
CwActivation activation_random(size_t n, size_t least, size_t most, double clarity, uint64_t *seed);

/// A model whose intervals go from `least` to `most` frames and whose costs are drawn by chance.
CwModel model_random(size_t least, size_t most, uint64_t *seed);

#endif
