// SPDX-License-Identifier: GPL-3.0-or-later
/// What a test gives the learned ear to hear.
#ifndef TEST_EAR_HEARD_H
#define TEST_EAR_HEARD_H

#include "ear/ear.h"

/// Features with `n` rows of bytes and 2n frames, and nothing else. The bytes are those of tests/vectors/ear/make.py.
/// Release with cw_features_free().
CwFeatures heard_sound(size_t n, unsigned seed);

/// A small network of random weights, with three outputs and a hint: tests/vectors/ear/small.bin. Release with free().
unsigned char *heard_small_network(size_t *size);

#endif
