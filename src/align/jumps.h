// SPDX-License-Identifier: GPL-3.0-or-later
/// Which part of a is played in which part of b: a search that may jump (cuts, repeats) and may find nothing
/// (applause, an announcement, other music).
///
/// Viterbi decoding over the frames of b; the state is a frame of a, or nothing.
#ifndef CW_ALIGN_JUMPS_H
#define CW_ALIGN_JUMPS_H

#include <stddef.h>
#include <stdint.h>

#include "align/frames.h"
#include "countwright/report.h"

/// In CwTrail.a: nothing of a is played here.
#define CW_NOWHERE (-1)

/// What is played in each frame of b.
typedef struct {
  int32_t *a;       ///< frame of a for each frame of b, or CW_NOWHERE
  size_t n;         ///< frames of b
  double gain;      ///< how much likeness over the threshold was gathered, as a share of a perfect match
  double threshold; ///< likeness that counts neither for nor against a match
} CwTrail;

/// Search at `rate_hz` frames a second. Memory grows with n_a * sqrt(n_b).
/// @param[out] trail Release with cw_trail_free(); empty on error.
/// @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_jumps_find(const CwFrames *a, const CwFrames *b, double rate_hz, const CwReport *report,
                                    CwTrail *trail);

/// Release and set to empty.
void cw_trail_free(CwTrail *trail);

#endif
