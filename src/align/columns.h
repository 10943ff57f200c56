// SPDX-License-Identifier: GPL-3.0-or-later
/// The scores of the search in jumps.h, column by column: a column is a frame of b, and in it there is a score for each
/// frame of a and each way to be there.
#ifndef CW_ALIGN_COLUMNS_H
#define CW_ALIGN_COLUMNS_H

#include <stddef.h>
#include <stdint.h>

#include "align/frames.h"

/// A frame of a may be stayed in for at most CW_STAYS frames of b beyond its own: music is not played slower than that
/// for long, and a path that lingers would match anything to a held chord. In the layer CW_PAUSED the music waits there.
enum { CW_STAYS = 2, CW_PAUSED = CW_STAYS + 1, CW_LAYERS };

/// How a frame's first layer was reached: by a step of 1 to 3 frames of a, or by a jump or out of nothing.
enum { CW_STEP = 1, CW_SKIP, CW_LEAP, CW_FRESH };

/// What is written of each frame of a column: how its first layer was reached, whether its pause begins here, and above
/// that the best of its layers.
enum { CW_HOW_MASK = 7, CW_PAUSE_BEGINS = 8, CW_LAYER_SHIFT = 4 };

/// What moves cost, in likeness.
typedef struct {
  float threshold; ///< likeness above this is a gain
  float jump, nothing, pause, stay, skip;
  float margin; ///< to begin or end `margin_frames` or more from a's own beginning or end; less costs less
  size_t margin_frames;
} CwPrices;

/// A column while the search runs.
typedef struct {
  const CwFrames *a, *b;
  CwPrices price;
  float *score[CW_LAYERS]; ///< of each state, less the best of the column
  float *next[CW_LAYERS];  ///< the same for the next column
  float *best_score;       ///< over the layers; some cells in front are minus infinity
  float *likeness;         ///< of one column
  float *nothing_score;    ///< of the state "nothing" in each column, less the best of its column
  int32_t *best;           ///< best frame of each column
  double total;            ///< the best score of the last column
} CwColumns;

/// Set up; the prices are the caller's to set. @return CW_OK or CW_ERR_NO_MEM; release in either case.
CW_NODISCARD CwStatus cw_columns_init(const CwFrames *a, const CwFrames *b, CwColumns *columns);

/// Move to column `j` from the one before.
void cw_columns_next(CwColumns *columns, size_t j);

/// Say how the states of column `j` are reached that cw_columns_next() moves to after this: one byte for each frame of
/// a, without the best layer.
void cw_columns_explain(const CwColumns *columns, size_t j, uint8_t *how);

/// Add the best layer of each frame to what is written of this column.
void cw_columns_note_layers(const CwColumns *columns, uint8_t *how);

/// The layer in which frame `i` has the best score.
uint8_t cw_columns_best_layer(const CwColumns *columns, size_t i);

/// The best score of each frame of a.
const float *cw_columns_best(const CwColumns *columns);

/// What it costs to begin, or to end, so many frames from a's own beginning or end.
float cw_columns_margin(const CwColumns *columns, size_t frames);

/// Copy the scores of the column to or from CW_LAYERS rows.
void cw_columns_save(const CwColumns *columns, float *to);
void cw_columns_restore(CwColumns *columns, const float *from);

/// Release. Safe on a zeroed CwColumns.
void cw_columns_free(CwColumns *columns);

#endif
