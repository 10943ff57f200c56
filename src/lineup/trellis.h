// SPDX-License-Identifier: GPL-3.0-or-later
/// Scores of the states (count, frame, tempo), one count after the other.
#ifndef CW_LINEUP_TRELLIS_H
#define CW_LINEUP_TRELLIS_H

#include <stddef.h>
#include <stdint.h>

#include "countwright/status.h"
#include "lineup/follow.h"

enum { CW_MOST_TEMPOS = 192 };

/// The scores. `width` frames of each count's band are its places.
typedef struct {
  const CwPlan *plan;
  const CwSight *sight;
  const CwBands *bands;
  size_t n_tempos;
  double beat_frames[CW_MOST_TEMPOS]; ///< frames of a beat at each tempo, ascending
  float step;                         ///< cost between neighbouring tempos
  float *now;                         ///< by tempo and place: best score with the count there
  float *before;                      ///< the same, by the tempo of what follows the count
  float *best;                        ///< work space, one band
  int32_t *best_from;
} CwTrellis;

/// Where a path ends best.
typedef struct {
  float score;
  size_t count; ///< index of its last count
  size_t tempo;
  size_t place;
} CwTrellisEnd;

/// Release with cw_trellis_free(), on error too. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_trellis_init(CwTrellis *t, const CwPlan *plan, const CwSight *sight, const CwBands *bands);

void cw_trellis_free(CwTrellis *t);

/// Scores of the first count.
void cw_trellis_begin(CwTrellis *t);

/// Scores of count `i` from those of the count before it.
void cw_trellis_arrive(CwTrellis *t, size_t i);

/// Go on from count `i`: at what tempo, and through the pin within the count, if there is one.
/// @param[out] from By next tempo and place: tempo before.
void cw_trellis_leave(CwTrellis *t, size_t i, uint8_t *from);

/// Let music out of tempo pass after count `i`; the scores are then by place of the count after it.
/// @param[out] from By next tempo and place of the count after: place of count `i`.
void cw_trellis_hold(CwTrellis *t, size_t i, uint16_t *from);

/// Note whether a path that ends with count `i` beats the best end so far.
void cw_trellis_consider_end(const CwTrellis *t, size_t i, CwTrellisEnd *end);

/// Frames that a count lasts at a tempo, or by the pins on both sides.
size_t cw_trellis_frames(const CwTrellis *t, size_t count, size_t tempo);

#endif
