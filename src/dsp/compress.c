// SPDX-License-Identifier: GPL-3.0-or-later
#include "dsp/compress.h"

#include <math.h>

#include "countwright/features.h"

#define COMPRESSION 100.0F   // of log(1 + c x)
#define FLOOR 1e-4F          // the loudness that the follower never falls below
#define FOLLOWER_DECAY_S 8.0 // the level of the music is followed this slowly

void cw_compress(CwCompressor *compressor, float *bands, size_t n)
{
  const float decay = (float)exp(-1.0 / (FOLLOWER_DECAY_S * CW_FEATURE_RATE_HZ));
  float loudest = fmaxf(compressor->loudest * decay, FLOOR);
  for (size_t i = 0; i < n; i++) {
    loudest = fmaxf(loudest, bands[i]);
  }
  compressor->loudest = loudest;
  const float scale = COMPRESSION / loudest;
  for (size_t i = 0; i < n; i++) {
    bands[i] = logf(1.0F + scale * bands[i]);
  }
}
