// SPDX-License-Identifier: GPL-3.0-or-later
/// Random numbers that are the same every time.
#ifndef CW_TEST_RANDOM_H
#define CW_TEST_RANDOM_H

#include <stddef.h>
#include <stdint.h>

/// The next of a run of numbers from 0 up to, not including, 1 (SplitMix64: Steele, Lea, Flood 2014).
static inline double random_share(uint64_t *seed)
{
  uint64_t x = *seed += 0x9e3779b97f4a7c15U;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9U;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebU;
  x ^= x >> 31;
  return (double)(x >> 11) / 9007199254740992.0;
}

/// From `low` up to `high`.
static inline double random_between(uint64_t *seed, double low, double high)
{
  return low + (high - low) * random_share(seed);
}

/// A whole number below `limit`.
static inline size_t random_below(uint64_t *seed, size_t limit)
{
  return (size_t)(random_share(seed) * (double)limit);
}

#endif
