// SPDX-License-Identifier: GPL-3.0-or-later
/// What alignment keeps of a recording: harmony and attacks by pitch class, 50 times a second.
#ifndef CW_ALIGN_FEATURES_H
#define CW_ALIGN_FEATURES_H

#include <stddef.h>

#include "align/attacks.h"
#include "countwright/align.h"
#include "countwright/status.h"

/// Frames a second, and samples at CW_ANALYSIS_RATE_HZ from one to the next. Frame `i` is centred on i / 50 s.
#define CW_ALIGN_RATE_HZ 50
#define CW_ALIGN_HOP 441

#define CW_ATTACK_ROWS 84

struct CwAlignFeatures {
  size_t n;          ///< frames
  float *chroma;     ///< 12 rows (C first) of `n` frames, each frame of length 1
  CwAttacks attacks; ///< balanced
  double duration_s;
  double tuning_cents; ///< against A = 440 Hz, -50 to 50
};

/// Lay out what was measured. @param attacks Taken over and left empty.
/// @return CW_OK or CW_ERR_NO_MEM (then `features` is NULL).
CW_NODISCARD CwStatus cw_align_features_make(size_t n, const float (*chroma)[12], CwAttacks *attacks, double duration_s,
                                             double tuning_cents, CwAlignFeatures **features);

/// A copy of frames `first` to `end` (not included), as if they were a recording.
/// @param[out] part Release with cw_align_features_free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_align_features_part(const CwAlignFeatures *features, size_t first, size_t end,
                                             CwAlignFeatures **part);

/// A recording being measured. Opaque.
typedef struct CwAlignStream CwAlignStream;

/// Begin. @param[out] stream Release with cw_align_stream_free(). @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_align_stream_new(CwAlignStream **stream);

/// Take the next samples at CW_ANALYSIS_RATE_HZ. Its type is CwBlockSink's. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_align_stream_push(void *stream, const float *samples, size_t n);

/// Come to the end. @param[out] features Release with cw_align_features_free(); NULL on error.
/// @return CW_OK, CW_ERR_TOO_SHORT or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_align_stream_finish(CwAlignStream *stream, CwAlignFeatures **features);

/// Release. NULL is accepted.
void cw_align_stream_free(CwAlignStream *stream);

#endif
