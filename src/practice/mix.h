// SPDX-License-Identifier: GPL-3.0-or-later
/// A score played: the music, softer under what sounds on top of it.
#ifndef CW_PRACTICE_MIX_H
#define CW_PRACTICE_MIX_H

#include "practice/score.h"
#include "practice/scratch.h"

/// What is played; all of it must outlive the mix.
typedef struct {
  const CwScore *score; ///< finished
  CwClips *clips;
  CwScratch *music; ///< the recording at `rate_hz`
  unsigned rate_hz;
  double music_gain;
  double duck_gain; ///< of the music under other sounds
} CwMixParts;

typedef struct CwMix CwMix;

/// @param[out] mix Release with cw_mix_free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_mix_new(const CwMixParts *parts, CwMix **mix);

/// The next `n` samples. @return CW_OK, CW_ERR_NO_MEM, CW_ERR_UNSUPPORTED (no stretcher), CW_ERR_READ or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_mix_read(CwMix *mix, float *out, size_t n);

/// Release. NULL is accepted.
void cw_mix_free(CwMix *mix);

#endif
