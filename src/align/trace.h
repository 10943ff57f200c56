// SPDX-License-Identifier: GPL-3.0-or-later
/// Fine warping of one run: at ten frames a second about the trail, then at fifty about that.
#ifndef CW_ALIGN_TRACE_H
#define CW_ALIGN_TRACE_H

#include "align/frames.h"
#include "align/runs.h"
#include "align/warp.h"

/// Both recordings at both rates.
typedef struct {
  CwFrames a_slow, b_slow; ///< 10 Hz
  CwFrames a_fine, b_fine; ///< 50 Hz
} CwScales;

/// Make the frames. @param transpose Semitones that b is moved down by.
/// @param[out] scales Release with cw_scales_free(); empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_scales_make(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose,
                                     CwScales *scales);

/// Release and set to empty.
void cw_scales_free(CwScales *scales);

/// Warp one run.
/// @param step Frames at 50 Hz that one frame of the trail stands for.
/// @param[out] path In frames at 50 Hz; release its cells with free(); empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_trace_run(const CwScales *scales, const CwTrail *trail, CwRun run, size_t step,
                                   CwWarpPath *path);

#endif
