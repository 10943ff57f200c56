// SPDX-License-Identifier: GPL-3.0-or-later
/// The first guide along a run: warping at ten frames a second in a band about the trail.
#ifndef CW_ALIGN_TRACE_H
#define CW_ALIGN_TRACE_H

#include "align/frames.h"
#include "align/guide.h"
#include "align/runs.h"

/// Frames of the features to one of the frames that are warped here.
enum { CW_TRACE_STEP = 5 };

/// Warp one run.
/// @param a, b Frames made with a step of CW_TRACE_STEP.
/// @param step Frames of the features that one frame of the trail stands for, a multiple of CW_TRACE_STEP.
/// @param[out] guide Release with cw_guide_free(); empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_trace(const CwFrames *a, const CwFrames *b, const CwTrail *trail, CwRun run, size_t step,
                               CwGuide *guide);

#endif
