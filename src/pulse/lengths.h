// SPDX-License-Identifier: GPL-3.0-or-later
/// How long what begins at each frame lasts: the longer until the next attack, the more likely a beat (the length
/// preference of Lerdahl and Jackendoff, A Generative Theory of Tonal Music, 1983: MPR 5a).
#ifndef CW_PULSE_LENGTHS_H
#define CW_PULSE_LENGTHS_H

#include <stddef.h>

/// @param strength Onset strength, about 1 at a strong onset.
/// @param[out] length `n` values: ln of the time to the next strong attack against the lengths around it, from
/// -1.5 to 1.5; near 0 where nothing begins.
/// @param work Two curves of room.
void cw_lengths(const float *strength, size_t n, float *length, float *const work[2]);

#endif
