// SPDX-License-Identifier: GPL-3.0-or-later
/// Band magnitudes as the ear has them: logarithmic, and relative to how loud the music has been lately.
#ifndef CW_DSP_COMPRESS_H
#define CW_DSP_COMPRESS_H

#include <stddef.h>

/// Follows the level of one recording.
typedef struct {
  float loudest; ///< 0 at the start of a recording
} CwCompressor;

/// The most that a compressed band can be: log(1 + 100).
#define CW_COMPRESSED_MAX 4.6152F

/// Compress the `n` bands of the next frame (there are CW_FEATURE_RATE_HZ a second) to 0 ... CW_COMPRESSED_MAX.
void cw_compress(CwCompressor *compressor, float *bands, size_t n);

#endif
