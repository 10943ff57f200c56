// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/ear/heard.h"

#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>

CwFeatures heard_sound(size_t n, unsigned seed)
{
  CwFeatures features = {.n_frames = 2 * n, .duration_s = (double)n / CW_HEARD_RATE_HZ, .n_heard = n};
  features.heard = calloc(n, CW_HEARD_BANDS);
  assert_non_null(features.heard);
  uint64_t state = seed;
  for (size_t t = 0; t < n; t++) {
    for (size_t b = 0; b < CW_HEARD_BANDS; b++) {
      state = (state * 1103515245U + 12345U) % 2147483648U;
      const long saw = (long)(t * (b % 7 + 1) % 128) - 64;
      const long pulse = (t + 3 * (b % 5)) % 27 < 4 ? 48 : 0;
      const long sum = (long)((state >> 16) % 24) + pulse + labs(saw) / 3;
      features.heard[t * CW_HEARD_BANDS + b] = (unsigned char)(sum < 111 ? sum : 111);
    }
  }
  return features;
}

unsigned char *heard_small_network(size_t *size)
{
  FILE *in = fopen(CW_VECTORS "/ear/small.bin", "rb");
  assert_non_null(in);
  unsigned char *bytes = calloc(1, 100000);
  assert_non_null(bytes);
  *size = fread(bytes, 1, 100000, in);
  assert_int_equal(fclose(in), 0);
  return bytes;
}
